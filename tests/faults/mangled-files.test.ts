import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { importRows } from '#libs/actions/import/import-rows.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { faultSentence } from '#libs/actions/record/problem.js';
import type { Book } from '#libs/store/book.js';
import { readHead } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { startSeason, writeContext } from '../support/sugarhouse.js';
import { sqlite } from '../support/engines.js';
import { type Random, randomFrom } from '../generator/random.js';
import { inventSeason } from '../generator/invent-season.js';

const many = 300;

/** Files as other programs, people and disks make them: cut short, reordered, damaged. */
describe('A mangled file', () => {
  const engine = sqlite();
  let book: Book;
  beforeAll(async () => {
    await engine.start();
    book = await engine.freshBook();
    await startSeason(book);
  });
  afterAll(() => engine.stop());

  test(`is imported completely or not at all, ${many} times, and its faults are reported in sentences`, async () => {
    const random = randomFrom(8066);
    const result = { taken: 0, refused: 0 };
    for (let n = 0; n < many; n++) {
      const file = random.of(inventSeason(n, 2).files);
      const bytes = mangled(random, file.text);
      const before = (await readHead(book.read)).entries;
      const kind = importKinds.find((each) => each.plural === file.kind)!;
      const answer = await importRows(
        book,
        writeContext({ now: new Date('2026-06-20T16:00:00Z') }),
        kind,
        bytes,
        random.oneIn(4) ? { why: 'as the file has it' } : {},
      );
      const after = (await readHead(book.read)).entries;
      const faults = answer.faults.length + answer.refusals.length;
      expect(after - before).toBe(faults > 0 ? 0 : answer.written + answer.corrected);
      if (faults === 0) expect(answer.written + answer.corrected + answer.same).toBe(answer.rows);
      for (const fault of answer.faults)
        expect(faultSentence(fault)).toMatch(/^Line \d+, [\w ]+: expected .+, got .+/s);
      result[faults > 0 ? 'refused' : 'taken']++;
    }
    expect(result.refused).toBeGreaterThan(many / 4);
    expect(result.taken).toBeGreaterThan(many / 20);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
  }, 600_000);
});

function mangled(random: Random, text: string): Buffer<ArrayBufferLike> {
  let bytes: Buffer<ArrayBufferLike> = Buffer.from(text);
  for (let times = random.whole(0, 3); times > 0; times--) bytes = mangle(random, bytes);
  return bytes;
}

function mangle(random: Random, bytes: Buffer<ArrayBufferLike>): Buffer<ArrayBufferLike> {
  const at = random.whole(0, Math.max(0, bytes.length - 1));
  const lines = bytes.toString('latin1').split('\n');
  const line = random.whole(0, lines.length - 1);
  const put = (some: string): Buffer => Buffer.concat([bytes.subarray(0, at), Buffer.from(some), bytes.subarray(at)]);
  switch (random.whole(0, 11)) {
    case 0:
      return bytes.subarray(0, at);
    case 1:
      return Buffer.concat([bytes.subarray(0, at), Buffer.from([random.whole(0, 255)]), bytes.subarray(at + 1)]);
    case 2:
      return put(random.of(['"', ',', ';', '\n', '\r\n', '\r', '\0', '\uFEFF', '=1+2', '|', ':', '\t']));
    case 3:
      return put(
        random.of(['é', '°', '\u202e', '😀', '１２', '\u00a0', '−5', '1e9', '9'.repeat(400), 'a'.repeat(3000)]),
      );
    case 4:
      return Buffer.from([...lines.slice(0, line), lines[line], ...lines.slice(line)].join('\n'), 'latin1');
    case 5:
      return Buffer.from(lines.filter((_, n) => n !== line).join('\n'), 'latin1');
    case 6:
      return Buffer.from([lines[0], ...lines.slice(1).reverse()].join('\n'), 'latin1');
    case 7:
      return Buffer.from(bytes.toString().replaceAll(',', ';'));
    case 8:
      return Buffer.from(bytes.toString().replaceAll('gal', random.of(['', 'l', 'imp gal', 'barrels'])));
    case 9:
      return Buffer.from(bytes.toString().replaceAll('2026', random.of(['2025', '1926', '20261', ''])));
    case 10:
      return Buffer.from(
        bytes.toString().replaceAll(/\d/g, (digit) => (random.oneIn(40) ? String(random.whole(0, 9)) : digit)),
      );
    default:
      return bytes;
  }
}
