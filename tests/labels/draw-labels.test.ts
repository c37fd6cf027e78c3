import { Writable } from 'node:stream';
import { expect, test } from '@jest/globals';
import { drawAlignmentSheet } from '#libs/labels/layout/alignment-sheet.js';
import { drawLabels } from '#libs/labels/drawing/draw-labels.js';
import { drawTags } from '#libs/labels/drawing/draw-tags.js';
import { labelProblemSentences, type LabelContent, type LabelJar } from '#libs/labels/content/label.js';
import { previewLabel } from '#libs/labels/layout/label-svg.js';
import { labelCorner } from '#libs/labels/stocks/stocks.js';
import { caseTag, holdTag, shelfTag, trayCard, vesselTag } from '#libs/labels/content/tags.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { openPdf, textsOf } from '../support/read-symbols.js';
import {
  canadian,
  createdAt,
  drawn,
  halfPint,
  jarsOf,
  memory,
  ounces,
  refused,
  runOf,
  stockNamed,
} from '../support/tamarack-hollow.js';

const sheet = stockNamed('letter-30-up-66x25');

async function codesAt(pdf: Buffer, pageNumber: number): Promise<{ code: string; xMm: number; baselineMm: number }[]> {
  const texts = await textsOf(await openPdf(pdf), pageNumber);
  return texts
    .filter(({ text }) => /^[0-9A-Z]{4}-[0-9A-Z]{4}$/.test(text))
    .map(({ text, xMm, baselineMm }) => ({ code: text, xMm, baselineMm }));
}

test('printing starts at any position of a part-used sheet and reports where it ended', async () => {
  const jars = jarsOf(10);
  const { pdf, drawn: made } = await drawn({ jars, skip: 25 });
  expect(made).toMatchObject({ labels: 10, pages: 2, endedAt: 5, bytes: pdf.length });
  const [first, second] = [await codesAt(pdf, 1), await codesAt(pdf, 2)];
  expect(first.map(({ code }) => code)).toEqual(jars.slice(0, 5).map(({ code }) => printedJarCode(code)));
  expect(second.map(({ code }) => code)).toEqual(jars.slice(5).map(({ code }) => printedJarCode(code)));
  const { code } = made.layout;
  const corner = labelCorner(sheet, 25);
  expect(first[0]).toMatchObject({
    xMm: expect.closeTo(corner.xMm + code.xMm, 1),
    baselineMm: expect.closeTo(corner.yMm + code.baselineMm, 1),
  });
  expect((await drawn({ jars: jarsOf(30) })).drawn).toMatchObject({ pages: 1, endedAt: 0 });
});

test('a label sheet and a tag ask to be printed at their own size', async () => {
  const { pdf } = await drawn({});
  expect(pdf.toString('latin1')).toMatch(
    /\/ViewerPreferences (\d+) 0 R[^]*\n\1 0 obj\n<<[^>]*\/PrintScaling \/None|\n(\d+) 0 obj\n<<[^>]*\/PrintScaling \/None[^]*\/ViewerPreferences \2 0 R/,
  );
});

test('a shift moves everything by tenths of a millimetre', async () => {
  const still = (await codesAt((await drawn({})).pdf, 1))[0]!;
  const nudged = (await codesAt((await drawn({ nudge: { rightMm: 0.3, downMm: -0.4 } })).pdf, 1))[0]!;
  expect(nudged.xMm - still.xMm).toBeCloseTo(0.3, 3);
  expect(nudged.baselineMm - still.baselineMm).toBeCloseTo(-0.4, 3);
});

test('a reprint of jar 17 has the same code, and the same run makes the same bytes', async () => {
  const all = jarsOf(20);
  const again = await drawn({ jars: all.slice(16, 17) });
  expect((await codesAt(again.pdf, 1)).map(({ code }) => code)).toEqual([printedJarCode(all[16]!.code)]);
  expect((await drawn({ jars: all })).pdf.equals((await drawn({ jars: all })).pdf)).toBe(true);
});

test.each([
  [{ jars: [] }, 'There are no jars to print labels for'],
  [{ skip: 30 }, 'Skip: expected a whole number from 0 to 29, got "30"'],
  [{ skip: -1 }, 'Skip: expected a whole number from 0 to 29, got "-1"'],
  [{ skip: 1.5 }, 'Skip: expected a whole number from 0 to 29, got "1.5"'],
  [{ skip: 1, stock: stockNamed('roll-57x32') }, 'Skip: expected 0, since a page has one label, got "1"'],
  [{ nudge: { rightMm: 11, downMm: 0 } }, 'Nudge rightMm: expected at most 10 mm in either direction, got "11"'],
  [
    { nudge: { rightMm: Number.NaN, downMm: 0 } },
    'Nudge rightMm: expected at most 10 mm in either direction, got "NaN"',
  ],
  [{ dpi: 72 as 203 }, 'Printer: expected 203, 300, 600 dots per inch, got "72"'],
  [
    { symbol: { kind: 'link' as const, address: 'here' } },
    'Public address: expected an address that any phone can reach, like https://example.org, got "here"',
  ],
  [
    { symbol: { kind: 'link' as const, address: 'http://127.0.0.1:8066' } },
    'Public address: expected an address that any phone can reach, like https://example.org, got "http://127.0.0.1:8066"',
  ],
  [
    { symbol: { kind: 'gs1' as const, address: 'https://boilbook.example', gtin: '416000336109' } },
    'GTIN: expected your own GTIN of 8, 12, 13 or 14 digits with a valid check digit, got "416000336109"',
  ],
])('%j is refused before a byte is written', async (provided, sentence) => {
  const { problem, bytes } = await refused(provided);
  expect(labelProblemSentences(problem)).toEqual([sentence]);
  expect(bytes).toBe(0);
});

/** On a jug whose panel was measured: 47 in² requires 3/16 in. */
const halfGallon: LabelContent = { ...halfPint, container: ounces(64), panel: { areaMm2: 30_000 } };

test('where a flat container may have a smaller panel the net quantity is set lower, with a note of the largest panel that allows', async () => {
  const { drawn: made } = await drawn({
    content: { ...halfPint, container: ounces(32) },
    stock: stockNamed('letter-10-up-102x51'),
  });
  expect(made.layout.net.emMm * 0.496).toBeGreaterThanOrEqual(3.175);
  expect(made.layout.notes[0]).toBe(
    'The net quantity is 3.2 mm high, enough for a panel of up to 161 cm². The size of the panel is not recorded, and a tall container of this size requires 4.8 mm: measure the panel, or choose a larger label',
  );
});

test('a half-gallon container is never flat enough for 1/8 in letters: a small sheet is refused', async () => {
  const { problem } = await refused({ content: { ...halfPint, container: ounces(64) } });
  expect(problem).toMatchObject({ kind: 'does-not-fit', unfit: [{ item: 'Net quantity' }] });
});

test('what does not fit is reported with the stocks that hold it', async () => {
  const { problem, bytes } = await refused({ content: halfGallon });
  expect(bytes).toBe(0);
  const sentences = labelProblemSentences(problem);
  expect(sentences[0]).toMatch(/^Net quantity does not fit on letter-30-up-66x25: its letters must be 4\.8 mm/);
  expect(sentences[1]).toMatch(/^It fits on .*letter-10-up-102x51/);
});

test('pages are drawn no faster than the stream takes them, and a jar is read only when it is drawn', async () => {
  let request = 0;
  async function* slowly(): AsyncGenerator<LabelJar> {
    for (const jar of jarsOf(300)) {
      request++;
      yield jar;
    }
  }
  let firstWrite = 0;
  let most = 0;
  const out = new Writable({
    highWaterMark: 1024,
    write(_piece, _encoding, done) {
      firstWrite ||= request;
      most = Math.max(most, out.writableLength);
      setTimeout(done, 2);
    },
  });
  const answer = await drawLabels(runOf({ jars: slowly() }), out);
  expect(answer).toMatchObject({ drawn: { labels: 300, pages: 10 } });
  expect(firstWrite).toBeLessThan(100);
  expect(most).toBeLessThan(200_000);
});

test('when the output stream of the labels closes, drawing ends with an error', async () => {
  const out = new Writable({
    highWaterMark: 64,
    write(_piece, _encoding, done) {
      done();
      out.destroy();
    },
  });
  await expect(drawLabels(runOf({ jars: jarsOf(120) }), out)).rejects.toThrow('no longer wanted');
});

test('the preview shows what prints, with the same text for screen readers', () => {
  const jar = jarsOf(1)[0]!;
  const answer = previewLabel(
    runOf({
      content: { ...canadian, maker: { ...canadian.maker, name: 'Ellery & <Sons>' }, practice: true },
      stock: stockNamed('letter-10-up-102x51'),
    }),
    jar,
  );
  if ('problem' in answer) throw new Error(JSON.stringify(answer.problem));
  expect(answer.svg).toMatch(/^<svg [^>]*viewBox="0 0 101\.6 50\.8"/);
  expect(answer.svg).toMatch(/Ellery &amp; &lt;Sons&gt;/i);
  expect(answer.svg).not.toMatch(/<Sons>/i);
  expect(answer.svg).toContain('PRACTICE');
  expect(answer.svg).toContain(printedJarCode(jar.code));
  expect(answer.svg).toMatch(/<desc id="([\w-]+)">Label: Ellery/i);
  expect(answer.svg).toMatch(/aria-labelledby="face-[A-Z0-9]{8}-text"/);
  expect(previewLabel(runOf({ content: halfGallon }), jar)).toMatchObject({
    problem: { kind: 'does-not-fit' },
  });
});

test('PRACTICE has a line of its own where there is room, and never touches the text there', () => {
  const content = { ...halfPint, practice: true };
  const large = previewLabel(runOf({ content, stock: stockNamed('letter-10-up-102x51') }), jarsOf(1)[0]!);
  if ('problem' in large) throw new Error(JSON.stringify(large.problem));
  expect(large.layout.practice).toBeUndefined();
  expect(large.layout.texts.map(({ item, text }) => [item, text])).toContainEqual(['Practice', 'PRACTICE']);
});

test('tags carry the lot in large type, the given text, and room for a reading by pen', async () => {
  const lot = { lot: '26077A-1', practice: false };
  const packedOn = '2026-03-19';
  const container = 'glass jar 8 fl oz';
  const why = `179.9 °F at the third of 5 readings; ${'the limit is 180 °F in the jar when capped; '.repeat(12)}`;
  const tags = [
    trayCard({ ...lot, packedOn, container, by: 'WE', tray: { n: 2, of: 5 } }),
    holdTag({ ...lot, why, by: 'OE', on: '19 Mar 2026 15:20' }),
    vesselTag({
      lot: '26077A',
      practice: true,
      vessel: 'V2',
      volume: '4.5 gal',
      restingSince: '18 Mar 2026 20:10',
      from: ['G041'],
      by: 'JP',
    }),
    caseTag({ ...lot, count: 12, container, packedOn, to: 'Millrace Green' }),
    shelfTag({ ...lot, container, grade: halfPint.gradeText, packedOn }),
  ];
  const { out, written } = memory();
  expect(await drawTags({ tags, page: 'a4', createdAt }, out)).toEqual({ pages: 3 });
  const document = await openPdf(written());
  const first = await textsOf(document, 1);
  const formatted = first.map(({ text }) => text).join(' ');
  expect(formatted).toMatch(/Tray 2 of 5.*26077A-1.*19 Mar 2026.*Jars on this tray.*Direct-thermal labels fade/);
  expect(formatted).toMatch(/HELD.*179\.9 °F.*Released on, initials.*until the lot is released/);
  expect(Math.max(...first.map(({ emMm }) => emMm))).toBeGreaterThan(15);
  for (const { xMm, baselineMm, widthMm } of first)
    expect([xMm >= 0, xMm + widthMm <= 210, baselineMm <= 297 - 5]).toEqual([true, true, true]);
  expect((await textsOf(document, 2)).map(({ text }) => text).join(' ')).toMatch(
    /PRACTICE · Vessel V2.*Temperature.*Case.*Millrace Green/,
  );
  expect(await drawTags({ tags: [], page: 'letter', createdAt }, memory().out)).toMatchObject({
    problem: { kind: 'no-jars' },
  });
});

test('an alignment sheet has an outline for every label and shows the shift it was drawn with', async () => {
  const { out, written } = memory();
  await drawAlignmentSheet({ stock: sheet, nudge: { rightMm: 0.3, downMm: -0.5 }, createdAt }, out);
  const texts = await textsOf(await openPdf(written()), 1);
  const corner = labelCorner(sheet, 29);
  expect(texts.find(({ text }) => text === '30')).toMatchObject({
    xMm: expect.closeTo(corner.xMm + 0.3 + 4, 1),
    baselineMm: expect.closeTo(corner.yMm - 0.5 + 4, 1),
  });
  expect(texts.map(({ text }) => text)).toContain('Set now: +0.3 mm right, −0.5 mm down.');
});
