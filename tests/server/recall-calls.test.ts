import { beforeAll, describe, expect, test } from '@jest/globals';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';
import { readPdf } from '../support/read-pdf.js';
import { plain } from '../support/documented-season.js';

const here = recallSuite();
const { open, send, entries, write, aPack } = here;
const reached = {
  why: 'a buyer found glass',
  hazard: 'glass in the jar',
  whoMayBeHurt: 'anybody who eats it',
  whatToDo: '',
};

describe('the calls of a recall', () => {
  let pack = '';
  let calls = '';
  beforeAll(async () => {
    pack = await aPack(here.boil, { packedAt: '2026-03-19T16:10' });
    const sent = { lot: pack, sentAt: '2026-03-20T08:00', by: 'JP' };
    await write('dispatches', {
      ...sent,
      jars: '3',
      to: 'Millrace Green',
      telephone: '802 555 0171',
      contact: 'stall 3',
    });
    await write('dispatches', { ...sent, jars: '1', to: 'June Pascoe', kind: 'gift' });
  });

  test('link a telephone number found in the contact text; but not a date or a house number', async () => {
    const lot = await aPack(here.boil, { packedAt: '2026-03-19T16:20' });
    const each = { lot, sentAt: '2026-03-20T10:00', by: 'JP', jars: '1' };
    await write('dispatches', {
      ...each,
      to: 'Notch Road Farm Stand',
      contact: '802 555 0142, Notch Road, Harrow Notch',
    });
    await write('dispatches', { ...each, to: 'Bracken Lane', contact: '14 Bracken Lane, open from 2026-05-01' });
    const body = plain((await open(`/recall/calls?lot=${lot}`)).body);
    expect(body).toContain('href="tel:8025550142"><b>802 555 0142</b></a> <span class="soft">Notch Road, Harrow Notch');
    expect(body).toContain('<b>telephone not recorded</b> <span class="soft">14 Bracken Lane, open from 2026-05-01');
  });

  test('are previewed with jars, buyers and places, before anything is recalled', async () => {
    const before = await entries();
    const reach =
      'Affected: 1 pack and 6 jars: 2 on hand by the records (1 pack not counted), 4 jars sent out; to call: Millrace Green 3, June Pascoe 1.';
    for (const url of [`/recall?lot=${pack}`, `/lots/${pack}/recall`]) {
      const { body } = await open(url);
      expect({ url, at: body.indexOf(reach) }).toEqual({ url, at: expect.any(Number) });
      expect(body.indexOf(reach)).toBeGreaterThan(0);
      expect(body.indexOf(reach)).toBeLessThan(body.indexOf('name="hazard"'));
    }
    expect(await entries()).toBe(before);
  });

  test('take a picked reason and hazard; typed text takes precedence', async () => {
    const lot = await aPack(here.boil, { packedAt: '2026-03-19T16:40' });
    const form = (await open(`/lots/${lot}/recall`)).body;
    expect(form).toContain('name="hazard~pick" value="lead"');
    const picked = { 'why~pick': 'glass found in a jar', 'hazard~pick': 'lead', hazard: 'glass splinters' };
    expect((await send(`/lots/${lot}/recall`, { ...hiddenFieldsIn(form), ...picked })).statusCode).toBe(303);
    const { body } = await open(`/recall/calls?lot=${lot}`);
    expect(plain(body)).toMatch(/glass found in a jar[^]*glass splinters[^]*not recorded/);
  });

  test('are on the next page, with the hazard as recorded and a blank shown as not recorded', async () => {
    const done = await send('/recall', {
      ...hiddenFieldsIn((await open(`/recall?lot=${pack}`)).body),
      lot: pack,
      ...reached,
    });
    expect(done.headers.location).toBe(`/recall/calls?lot=${pack}`);
    calls = String(done.headers.location);
    const { body } = await open(calls);
    expect(body).toContain('<dt>Hazard</dt><dd>glass in the jar</dd>');
    expect(body).toContain('<dt>What to do with the jars</dt><dd>not recorded</dd>');
    expect(body).toContain('0 of 2 calls reached.');
    expect(body).toContain('href="tel:8025550171"');
    expect(plain(body)).toMatch(/June Pascoe<\/b>, 1 jar<\/p>\s*<p><b>telephone not recorded/);
    expect(body).toContain('how: not recorded');
    expect(body).not.toMatch(/\bsale\b/);
    const season = (await open('/season/2026')).body.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
    expect(season).toMatch(/ \d held 2 recalled /);
  });

  test('are dialled from the form of one call too, which says what to say from what is recorded', async () => {
    const form = async (to: string) =>
      (await open(`/recall/call?lot=${pack}&to=${encodeURIComponent(to)}`)).body.replace(/\s+/g, ' ');
    const body = await form('millrace green');
    expect(body).toContain('<a class="main-action next-action" href="tel:8025550171">Call 802 555 0171</a>');
    expect(body).toContain('<button class="main-action second">Save the call</button>');
    const toSay = plain(/<h2>What to say<\/h2>.*?<\/section>/.exec(body)?.[0] ?? '').replace(/<[^>]+>/g, ' ');
    expect(toSay).toContain('We are recalling maple syrup that you have from us: a buyer found glass.');
    expect(toSay).toContain(`You received 3 jars of lot ${pack} on 20 Mar 2026.`);
    expect(toSay).toContain('The hazard: glass in the jar.');
    expect(toSay).toContain('Please set the jars apart: do not sell, give or eat them.');
    const gift = await form('June Pascoe');
    expect(plain(gift)).toContain(`You received 1 jar of lot ${pack} on 20 Mar 2026 (gift).`);
    expect(gift).not.toContain('href="tel:');
    expect(gift).toContain('No telephone number is recorded.');
    expect(gift).toContain('<button class="main-action">Save the call</button>');
  });

  test('ask whether jars arrived that were planned to leave after the recall', async () => {
    const lot = await aPack(here.boil, { packedAt: '2026-03-19T16:55' });
    await write('dispatches', { lot, sentAt: '2026-03-21T12:00', jars: '2', to: 'Harrow Notch fair', kind: 'sale' });
    await send(`/lots/${lot}/recall`, { ...hiddenFieldsIn((await open(`/lots/${lot}/recall`)).body), ...reached });
    const { clock } = here;
    const before = clock.now;
    clock.now = new Date('2026-03-22T12:00:00Z');
    const form = plain((await open(`/recall/call?lot=${lot}&to=${encodeURIComponent('Harrow Notch fair')}`)).body);
    clock.now = before;
    expect(form).toContain(
      `We planned to send you 2 jars of lot ${lot} on 21 Mar 2026, and did not record whether they left. Did you receive them?`,
    );
    expect(form).not.toContain('You received');
  });

  test('begin from the reason that was recorded when the lot was held, which is offered and not filled in', async () => {
    const lot = await aPack(here.boil, { packedAt: '2026-03-19T16:50' });
    expect((await send(`/lots/${lot}/hold`, { why: 'a lid of tray 3 hissed' })).statusCode).toBe(303);
    for (const url of [`/lots/${lot}/recall`, `/recall?lot=${lot}`]) {
      const { body } = await open(url);
      expect(body).toContain('name="why~pick" value="a lid of tray 3 hissed"');
      expect(body).not.toMatch(/value="a lid of tray 3 hissed"[^>]* checked/);
      expect(body.indexOf('a lid of tray 3 hissed')).toBeLessThan(body.indexOf('value="mould found by a buyer"'));
    }
  });

  test('are ticked with who called and when; a call that nobody answered ticks nothing', async () => {
    const [first] = [...(await open(calls)).body.matchAll(/action="(\/recall\/call\?[^"]*Millrace[^"]*)"/g)];
    const form = (first?.[1] ?? '').replaceAll('&amp;', '&');
    await send(form, { _once: 'a-call-nobody-took', reached: 'no' }, 'JP');
    expect((await open(calls)).body).toContain('0 of 2 calls reached.');
    const page = (await open(form, 'JP')).body;
    const formatted = { reached: 'yes', spokeTo: 'the stall keeper', keptApart: '2' };
    const saved = await send(form, { ...hiddenFieldsIn(page), ...formatted }, 'JP');
    expect([saved.headers.location, saved.statusCode === 303 ? '' : saved.body]).toEqual([calls, '']);
    const { body } = await open(calls);
    expect(body).toContain('1 of 2 calls reached.');
    expect(body).toMatch(/Called 20 Mar \d\d:\d\d by JP: no answer/);
    expect(body).toMatch(/Called 20 Mar \d\d:\d\d by JP: reached, spoke to the stall keeper, 2 jars kept apart/);
    expect(body).toContain('2 of 4 jars set apart, by what the buyers said.');
  });

  test('say where a buyer set apart more jars than were sent there, until a later call corrects it', async () => {
    const form = `/recall/call?lot=${pack}&to=Millrace+Green`;
    await send(form, { _once: 'more-than-sent', reached: 'yes', keptApart: '25' }, 'JP');
    const doubted = (await open(calls)).body;
    expect(doubted).toContain('25 jars set apart is more than the 3 that they have by the records');
    await send(form, { _once: 'as-many-as-sent', reached: 'yes', keptApart: '2' }, 'JP');
    const { body } = await open(calls);
    expect(body).toContain('2 of 4 jars set apart');
    expect(body).not.toContain('is more than');
  });

  test('are ticked in the PDF too, on the page after the reach, on letter and on A4', async () => {
    for (const [paper, widthPt] of [
      ['letter', 612],
      ['a4', 595],
    ] as const) {
      const list = await open(`/recall/list.pdf?lot=${pack}&paper=${paper}`);
      const { pages } = await readPdf(list.rawPayload);
      expect(Math.round(pages[0]?.widthPt ?? 0)).toBe(widthPt);
      const texts = pages.map((page) => plain(page.text));
      const [first] = texts;
      const second = texts.find((text) => text.includes('Whom to call'));
      expect(first).toContain('Reason: a buyer found glass');
      expect(first).toContain('Hazard: glass in the jar.');
      expect(first).toContain('What to do with the jars: not recorded');
      expect(second).toContain('2 calls, 1 reached so far.');
      expect(second).toMatch(/Millrace Green, 3 jars 802 555 0171 stall 3/);
      expect(second).toContain('by JP: reached, spoke to the stall keeper, 2 jars kept apart');
    }
  });
});

test('a call of a recall that began from several lots is recorded once and appears under each of them', async () => {
  const lots = [await aPack(here.boil), await aPack(here.boil), await aPack(here.boil)];
  for (const lot of lots)
    await write('dispatches', { lot, jars: '1', sentAt: '2026-03-20T08:00', to: 'Bracken Lane', by: 'JP' });
  const query = lots
    .slice(0, 2)
    .map((lot) => `lot=${lot}`)
    .join('&');
  const form = `/recall/call?${query}&to=Bracken+Lane`;
  const saved = await send(form, { ...hiddenFieldsIn((await open(form)).body), reached: 'yes', spokeTo: 'the cook' });
  expect([saved.statusCode, saved.headers.location]).toEqual([303, `/recall/calls?${query}`]);
  expect((await here.records('recall-call')).filter(({ body }) => body.to === 'Bracken Lane')).toHaveLength(1);
  for (const [hazard, sentence] of [
    [query, '1 of 1 call reached.'],
    [`lot=${lots[1]}`, '1 of 1 call reached.'],
    [`lot=${lots[2]}`, '0 of 1 call reached.'],
  ])
    expect((await open(`/recall/calls?${hazard}`)).body).toContain(sentence);
  for (const lot of lots.slice(0, 2)) expect(plain((await open(`/lots/${lot}`)).body)).toContain('the cook');
});

test('a laboratory that has a sample to test is last among the calls, marked as not a buyer, on the page, in JSON and in print', async () => {
  const pack = await aPack(here.boil, { packedAt: '2026-03-19T16:30' });
  const sent = { lot: pack, sentAt: '2026-03-20T08:00', by: 'JP' };
  await write('dispatches', { ...sent, jars: '3', to: 'Harrow Notch Laboratory', kind: 'sample', laboratory: 'yes' });
  await write('dispatches', { ...sent, jars: '1', to: 'June Pascoe', kind: 'gift' });
  const { body } = await open(`/recall/calls?lot=${pack}`);
  expect(plain(body)).toMatch(
    /June Pascoe<\/b>, 1 jar.*Harrow Notch Laboratory<\/b> <span class="soft">\(a laboratory, not a buyer\)<\/span>, 3 jars/,
  );
  expect(body).toContain('sample for a laboratory');
  const reach = (await open(`/api/lots/${pack}/recall`)).json<{ reach: string; calls: unknown[] }>();
  expect(reach.reach).toContain('to call: June Pascoe 1, Harrow Notch Laboratory 3 (laboratory)');
  expect(reach.calls).toMatchObject([{ laboratory: false }, { to: 'Harrow Notch Laboratory', laboratory: true }]);
  const pdf = await readPdf((await open(`/recall/list.pdf?lot=${pack}`)).rawPayload);
  expect(pdf.text.replace(/\s+/g, ' ')).toContain('Harrow Notch Laboratory (a laboratory, not a buyer), 3 jars');
});
