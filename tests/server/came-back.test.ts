import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addPerson } from '#libs/actions/household-deeds.js';
import { importKinds, kindByName } from '#libs/actions/kinds.js';
import { record } from '#libs/actions/record.js';
import { balanceOf } from '#libs/records/balance.js';
import type { SideBody } from '#libs/records/bodies.js';
import { utcOf } from '#libs/records/instants.js';
import type { RecordKind } from '#libs/records/entry.js';
import { readHead } from '#libs/records/log.js';
import { findLot, jarsOfPack, recordsOf } from '#libs/records/lots.js';
import { verifyBook } from '#libs/records/verify.js';
import { printedJarCode } from '#libs/syrup/jar-codes.js';
import { jarPage } from '#libs/labels/jar-page.js';
import { labelOfPack } from '#libs/labels/label-of-pack.js';
import { placeRules } from '#libs/actions/places.js';
import type { PlaceRules } from '#libs/syrup/places.js';
import { aServer, posted, signedIn, type AServer } from './a-server.js';
import { writeADay } from './a-season.js';
import { readPdf } from '../reports/read-pdf.js';

let at: AServer;
let day: Awaited<ReturnType<typeof writeADay>>;
let boil = '';
const cookies: Record<string, string> = {};

beforeAll(async () => {
  at = await aServer();
  day = await writeADay(at);
  await write('gatherings', {
    id: 'G050',
    gatheredAt: '2026-03-18T16:00',
    source: 'lower lines',
    volume: '200 gal',
    by: 'JP',
  });
  boil = await write('boils', {
    beganAt: '2026-03-19T06:00',
    gatherings: ['G050:200 gal'],
    filterTemp: '190 F',
    filterMedium: 'wool cone',
    syrupVolume: '5 gal',
    restedFrom: '2026-03-19T11:00',
    restedUntil: '2026-03-19T14:00',
    by: 'WE',
  });
  for (const [initials, role] of [
    ['WE', 'maker'],
    ['JP', 'helper'],
  ] as const) {
    const password = `steam over the roof of ${initials}`;
    const added = await addPerson(at.book, 'home', { initials, name: initials, role, password });
    if ('problem' in added) throw new Error(JSON.stringify(added.problem));
    cookies[initials] = await signedIn(at, initials, password);
  }
  await write('dispatches', {
    lot: day.pack,
    jars: '1',
    sentAt: '2026-03-19T12:00',
    to: 'cellar shelf, left',
    kind: 'retained',
    by: 'OE',
  });
}, 60_000);
afterAll(() => at.close());

const open = (url: string, initials = 'WE') => at.web.inject({ url, headers: { cookie: cookies[initials] ?? '' } });
const send = (url: string, fields: Record<string, string>, initials = 'WE') =>
  posted(at, url, fields, { cookie: cookies[initials] ?? '' });
const entries = async (): Promise<number> => (await readHead(at.book.read)).entries;
const kept = (kind: RecordKind) => recordsOf<SideBody>(at.book.read, 'home', kind);
const state = async (lot: string) => (await findLot(at.book.read, 'home', lot))?.state;
/** The hidden fields of the page's last form, as a browser sends them back. */
const marksIn = (html: string): Record<string, string> =>
  Object.fromEntries(
    [...html.matchAll(/<input type="hidden" name="(_once|_seen|jar|since)" value="([^"]*)">/g)].map((each) => [
      each[1] ?? '',
      each[2] ?? '',
    ]),
  );

async function write(plural: string, sent: Record<string, unknown>): Promise<string> {
  const desk = { sugarhouse: 'home', by: 'OE', author: 'OE', now: at.clock.now, zone: 'America/New_York' };
  const done = await record(
    at.book,
    desk,
    importKinds.find((each) => each.plural === plural)!,
    sent,
  );
  if ('problem' in done) throw new Error(JSON.stringify(done.problem));
  return done.id;
}

let packed = 0;
/** A pack of a lot, that nothing stops. */
const aPack = (from: string, more: Record<string, unknown> = {}): Promise<string> =>
  write('packs', {
    fromLots: [`${from}:50 fl oz`],
    packedAt: `2026-03-19T15:${10 + packed++}`,
    hotPackTemp: '190 F',
    fillTemps: ['186 F'],
    densityReading: '60.4 Bx',
    densityAt: '185 F',
    container: 'glass jar 8 fl oz',
    containerPrep: 'boiled 10 min',
    sealsFailed: '0',
    jars: '6',
    by: 'OE',
    ...more,
  });
async function firstJar(pack: string): Promise<string> {
  for await (const jar of jarsOfPack(at.book.read, 'home', pack)) return jar.code;
  throw new Error(`${pack} has no jars`);
}

describe('a bad jar comes back', () => {
  test('it is found by its code, by what its label reads or by its lot; another code is said to be none', async () => {
    const code = printedJarCode(day.jars[0] ?? '');
    for (const typed of [code, code.toLowerCase(), `HTTPS://BOOK.EXAMPLE/J/${day.jars[0]}`])
      expect((await open(`/came-back?q=${encodeURIComponent(typed)}`)).headers.location).toBe(`/came-back/${code}`);
    expect((await open(`/came-back?q=${day.pack}`)).headers.location).toBe(`/came-back/${day.pack}`);
    expect((await open('/came-back?q=nonesuch')).body).toContain('This book has no jar and no pack');
    expect((await open(`/came-back?q=${boil}`)).statusCode).toBe(200);
  });

  test('its page shows where the jar kept back stands, and answers nothing for the maker', async () => {
    const { body } = await open(`/came-back/${day.jars[0]}`);
    expect(body).toContain('<b>cellar shelf, left</b>: 1 jar');
    expect(body).toContain(`href="/recall?lot=${day.pack}"`);
    expect((await open(`/lots/${day.pack}`)).body).toContain(
      '<dt>kept back to compare</dt><dd><b>1 jar, cellar shelf, left</b>',
    );
    expect(body.match(/<(input|textarea)[^>]*name="(said|density|densityAt)"[^>]*value="[^"]+"/)).toBeNull();
    expect(body).not.toMatch(/value="[^"]+" checked/);
    expect((await open(`/came-back/${await firstJar(day.cold)}`)).body).toContain('None was kept back of this lot');
  });

  test('to hold or not is asked, and what was typed stays when it is not answered', async () => {
    const url = `/came-back/${day.jars[0]}`;
    const before = await entries();
    const asked = await send(url, { ...marksIn((await open(url)).body), said: 'tastes of the pan' });
    expect([asked.statusCode, await entries()]).toEqual([422, before]);
    expect(asked.body).toContain('tastes of the pan');
    expect(asked.body).toContain('href="#f-hold"');
  });

  test('what was seen is a complaint of the jar’s lot, and held once though sent twice', async () => {
    const pack = await aPack(boil);
    const url = `/came-back/${await firstJar(pack)}`;
    const fields = {
      said: 'lid was up',
      seal: 'was-loose',
      mould: 'no',
      smell: 'fermented-or-sour',
      density: '64',
      'density~unit': 'Bx',
      densityAt: '68',
      'densityAt~unit': 'F',
      densityBy: 'refractometer',
      hold: 'yes',
    };
    const marks = marksIn((await open(url)).body);
    const before = await entries();
    for (const _ of [1, 2]) expect((await send(url, { ...marks, ...fields })).headers.location).toBe(`/lots/${pack}`);
    expect([await entries(), await state(pack)]).toEqual([before + 2, 'held']);
    const { said, seal, mould, smell } = fields;
    const written = (await kept('complaint')).at(-1);
    expect(written?.body).toMatchObject({ lot: pack, by: 'WE', said, seal, mould, smell, density: { typed: '64 Bx' } });
    expect(written?.body['judged']).toMatchObject({ asks: 'hold', brix: 64.0 });
    for (const place of [`/lots/${pack}`, '/season/2026']) {
      const { body } = await open(place);
      expect(body).toContain('Jars that came back');
      expect(body).toMatch(
        /seal was loose, mould no, smell fermented or sour, density 64 °Bx at 68 °F: 64\.0 ± 0\.\d °Bx/,
      );
    }
    const summary = await at.web.inject({
      url: '/api/seasons/2026/summary.pdf',
      headers: { cookie: cookies['WE'] ?? '' },
    });
    const words = (await readPdf(summary.rawPayload)).pages.map((page) => page.text).join(' ');
    expect(words.replace(/\s+/g, ' ')).toContain('smell fermented or sour');
    expect(await verifyBook(at.book)).toMatchObject({ ok: true });
  });

  test('what the readings say is shown before anybody has to answer whether to hold, and nothing is written by it', async () => {
    const pack = await aPack(boil);
    const url = `/came-back/${await firstJar(pack)}`;
    const asked = async (fields: Record<string, string>): Promise<string> => {
      const answer = await send(url, { ...marksIn((await open(url)).body), said: 'odd', ...fields });
      expect(answer.statusCode).toBe(422);
      return answer.body;
    };
    expect((await open(url)).body).toContain('Packed at <b>60.4 °Bx at 185 °F');
    const before = await entries();
    // The same chart and formula as on the packing day: 60.4 on the float at 185 °F passes, 59 does not.
    const float = { 'density~unit': 'Bx', densityAt: '185 F', densityBy: 'hydrometer' };
    expect(await asked({ seal: 'held', mould: 'no', smell: 'sound', density: '60.4', ...float })).not.toContain(
      'HOLD IT',
    );
    const thin = await asked({ density: '59', ...float });
    expect(thin).toContain('HOLD IT');
    expect(thin).toMatch(/where the chart asks .*Syrup that is too thin moulds and ferments/s);
    const withoutTemperature = await asked({ density: '66.9 Bx', densityBy: 'hydrometer' });
    expect(withoutTemperature).toMatch(/without the temperature of the sample/);
    const spurted = await asked({ seal: 'spurting' });
    expect(spurted).toMatch(/Don’t taste it; wash what it touched.*general canning rule, from memory/s);
    const mouldy = await asked({ mould: 'yes' });
    expect(mouldy).toMatch(/DESTROY.*never boiled again, and nobody tastes it.*University of Maine/s);
    expect(await entries()).toBe(before);
  });

  test('words of an older book stay as they are, also when something else of the complaint is corrected', async () => {
    const desk = { sugarhouse: 'home', by: 'OE', author: 'OE', now: at.clock.now, zone: 'America/New_York' };
    const told = { lot: day.pack, said: 'lid', seal: 'not down, it flexed', smell: 'of the pan' };
    const done = await record(at.book, desk, kindByName.get('complaint')!, told);
    if ('problem' in done) throw new Error(JSON.stringify(done.problem));
    const correct = `/records/complaint/${done.id}/correct`;
    const { body } = await open(correct);
    await send(correct, { ...marksIn(body), why: 'looked', done: 'took it back' });
    expect((await kept('complaint')).find(({ id }) => id === done.id)?.body).toMatchObject({
      ...told,
      done: 'took it back',
      judged: { asks: 'nothing' },
    });
  });

  test('not held, the lot stays open', async () => {
    const pack = await aPack(boil);
    const url = `/came-back/${await firstJar(pack)}`;
    await send(url, { ...marksIn((await open(url)).body), said: 'dented lid', mould: 'no', hold: 'no' });
    expect(await state(pack)).toBe('open');
  });

  test('mould stops the lot and what it was poured into, whatever was chosen, and is not let go', async () => {
    const pack = await aPack(boil);
    const again = await aPack(pack, { fromLots: [`${pack}:45 fl oz`], jars: '5' });
    const url = `/came-back/${await firstJar(pack)}`;
    await send(url, { ...marksIn((await open(url)).body), said: 'something grows', mould: 'yes', hold: 'no' });
    for (const lot of [pack, again]) {
      const stood = await findLot(at.book.read, 'home', lot);
      expect([stood?.state, stood?.verdict?.findings[0]?.rule]).toEqual(['held', 'mould']);
      const letGo = `/lots/${lot}/mark/release`;
      const refused = await send(letGo, { ...marksIn((await open(letGo)).body), why: 'boiled again' });
      expect(refused.body).toContain('Mouldy syrup is destroyed, never released.');
      expect(await state(lot)).toBe('held');
    }
    // The sister pack of the same boil is not condemned with it.
    expect(await state(await aPack(boil))).toBe('open');
    expect(await verifyBook(at.book)).toMatchObject({ ok: true });
  });

  test('a maker who looked answers for mould in what a customer wrote, and that stops the lot', async () => {
    const pack = await aPack(boil);
    const url = `/j/${await firstJar(pack)}/report`;
    await posted(at, url, { ...marksIn((await at.web.inject(url)).body), said: 'mould on top' });
    expect(await state(pack)).toBe('open');
    const id = (await kept('complaint')).find(({ lot }) => lot === pack)?.id ?? '';
    const correct = `/records/complaint/${id}/correct`;
    await send(correct, { ...marksIn((await open(correct)).body), why: 'looked at it', mould: 'yes' });
    expect((await findLot(at.book.read, 'home', pack))?.verdict?.findings[0]?.rule).toBe('mould');
    expect(await state(pack)).toBe('held');
  });

  test('a helper looks but writes nothing here', async () => {
    const url = `/came-back/${day.jars[0]}`;
    const looked = await open(url, 'JP');
    expect([looked.statusCode, looked.body.includes('name="said"')]).toEqual([200, false]);
    expect((await send(url, { said: 'x', hold: 'no' }, 'JP')).statusCode).toBe(403);
  });
});

describe('a customer reports from the jar’s page', () => {
  const anybody = (url: string) => at.web.inject(url);
  const said = { said: 'A white film under the lid', reach: '802 555 0123, evenings' };

  test('the page that is served leads to the form; a page published elsewhere keeps the phone line only', async () => {
    const code = day.jars[1] ?? '';
    expect((await anybody(`/J/${code}`)).body).toContain(`href="/j/${code}/report"`);
    const lot = await findLot(at.book.read, 'home', day.pack);
    const content = lot && (await labelOfPack(at.book.read, 'home', lot, placeRules('Vermont') as PlaceRules));
    const published = content ? jarPage(content, code, undefined) : '';
    expect(published).toContain('Something wrong with this jar? Call');
    expect(published).not.toContain('/report');
  });

  test('it is taken once though sent twice, tells nothing, stops nothing, and stands on Today', async () => {
    const code = day.jars[1] ?? '';
    const form = await anybody(`/J/${code}/report`);
    expect(form.statusCode).toBe(200);
    const before = await entries();
    for (const _ of [1, 2]) {
      const sent = await posted(at, `/j/${code}/report`, { ...marksIn(form.body), ...said });
      expect([sent.statusCode, sent.headers.location]).toEqual([303, `/j/${code}/reported`]);
    }
    expect(await entries()).toBe(before + 1);
    const complaint = (await kept('complaint')).find(({ body }) => body['said'] === said.said);
    expect(complaint?.body).toMatchObject({
      lot: day.pack,
      jar: printedJarCode(code),
      said: said.said,
      by: 'customer',
    });
    expect(complaint?.body['note']).toContain(said.reach);
    expect(await state(day.pack)).toBe('open');
    const thanks = (await anybody(`/j/${code}/reported`)).body;
    for (const inside of [complaint?.id ?? '', day.pack, said.said, boil]) expect(thanks).not.toContain(inside);

    expect((await open('/')).body).toContain(said.said);
    expect((await open('/', 'JP')).body).not.toContain(said.said);
    const correct = `/records/complaint/${complaint?.id}/correct`;
    const marks = marksIn((await open(correct)).body);
    expect((await send(correct, { ...marks, why: 'looked at it', done: 'took it back' })).statusCode).toBe(303);
    expect((await open('/')).body).not.toContain(said.said);
  });

  test('the same token for other words gives away no entry', async () => {
    const code = day.jars[1] ?? '';
    const marks = marksIn((await anybody(`/j/${code}/report`)).body);
    await posted(at, `/j/${code}/report`, { ...marks, said: 'first' });
    const other = await posted(at, `/j/${code}/report`, { ...marks, said: 'second' });
    expect([other.statusCode, other.body.includes('customer'), other.body.includes('entry')]).toEqual([
      422,
      false,
      false,
    ]);
  });

  test('blank, too long, without its token or for no jar of ours: nothing is written', async () => {
    const url = `/j/${day.jars[2]}/report`;
    const marks = () => anybody(url).then((form) => marksIn(form.body));
    const before = await entries();
    const sent = async (fields: Record<string, string>, to = url) => (await posted(at, to, fields)).statusCode;
    expect(await sent({ ...(await marks()), said: ' ' })).toBe(422);
    expect(await sent({ ...(await marks()), said: 'x'.repeat(1001) })).toBe(422);
    expect(await sent({ ...(await marks()), said: 'x', reach: 'y'.repeat(201) })).toBe(422);
    expect(await sent({ said: 'x' })).toBe(422);
    expect(await sent({ ...(await marks()), said: 'x' }, '/j/22222222/report')).toBe(404);
    expect(await entries()).toBe(before);
  });

  test('it is taken from our own page only', async () => {
    const url = `/j/${day.jars[2]}/report`;
    const marks = marksIn((await anybody(url)).body);
    const before = await entries();
    const sent = await posted(at, url, { ...marks, ...said }, { origin: 'https://elsewhere.example' });
    expect([sent.statusCode, await entries()]).toEqual([403, before]);
  });

  test('five of one jar are taken in a day, and a visitor in a hurry is asked to wait', async () => {
    const url = `/j/${day.jars[3]}/report`;
    const statuses: number[] = [];
    for (let n = 0; n < 6; n++)
      statuses.push((await posted(at, url, { _once: `in-a-hurry-${n}`, said: `again ${n}` })).statusCode);
    expect(statuses).toEqual([303, 303, 303, 303, 303, 429]);
    // The last that was taken is still seen to be the same when it is sent again.
    expect((await posted(at, url, { _once: 'in-a-hurry-4', said: 'again 4' })).statusCode).toBe(303);

    const limited = await aServer({}, { visitsAMinute: 40 });
    try {
      const other = await writeADay(limited);
      const to = (n: number) => posted(limited, `/j/${other.jars[n]}/report`, { _once: `visit-${n}`, said: 'x' });
      expect([(await to(0)).statusCode, (await to(1)).statusCode, (await to(2)).statusCode]).toEqual([303, 303, 429]);
    } finally {
      await limited.close();
    }
  });
});

describe('a recall that begins from a thermometer or a day', () => {
  let ofBoth: string[] = [];
  beforeAll(async () => {
    const packedAt = { packedAt: '2026-03-20T09:00' };
    ofBoth = [
      await aPack(boil, { ...packedAt, fillTemps: ['186 F#T9'] }),
      await aPack(boil, { packedAt: '2026-03-20T09:30', fillTemps: ['187 F#T9', '186 F#T2'] }),
    ];
    await write('dispatches', {
      lot: ofBoth[0],
      jars: '4',
      sentAt: '2026-03-20T10:00',
      to: 'Millrace Green',
      contact: 'stall 3',
      by: 'JP',
    });
  });

  test('lists the packs it reaches, their balance and where they went; reading writes nothing', async () => {
    const before = await entries();
    const { statusCode, body } = await open('/recall?thermometer=t9');
    expect(statusCode).toBe(200);
    for (const pack of ofBoth) expect(body).toContain(`href="/lots/${pack}"`);
    expect(body).not.toContain(`href="/lots/${day.pack}"`);
    expect(body).toMatch(/<dt>made<\/dt><dd><b>12</);
    expect(body).toMatch(/<b>4 jars<\/b> of .* to Millrace Green, stall 3/);
    const ofDay = (await open('/recall?day=2026-03-20')).body;
    for (const pack of ofBoth) expect(ofDay).toContain(`href="/lots/${pack}"`);
    const list = await open('/recall/list.pdf?thermometer=T9');
    expect([list.headers['content-type'], list.rawPayload.subarray(0, 5).toString()]).toEqual([
      'application/pdf',
      '%PDF-',
    ]);
    expect(await entries()).toBe(before);
  });

  test('a check that an instrument failed shows the lots in doubt on its own page, and leads to their recall', async () => {
    const pack = await aPack(boil, { packedAt: '2026-03-20T10:00', instruments: 'T8' });
    const form = '/side/checks/new';
    const told = { instrument: 'T8', how: 'ice', should: '32 F', at: '2026-03-20T11:00' };
    const right = await send(form, { ...marksIn((await open(form)).body), ...told, id: 'K1', reads: '32 F' });
    expect(right.headers.location).toBe('/side/checks');
    const wrong = { ...told, id: 'K2', reads: '36 F', at: '2026-03-20T11:30' };
    const failed = await send(form, { ...marksIn((await open(form)).body), ...wrong });
    expect(failed.headers.location).toBe('/records/check/K2');
    // The good check stands between the pack and the bad one; without it the pack is in doubt.
    expect((await open('/records/check/K2')).body).toContain('No reading in the book names it in that time.');
    const correct = '/records/check/K1/correct';
    await send(correct, { ...marksIn((await open(correct)).body), why: 'read again', reads: '37 F' });
    const { body } = await open('/records/check/K2');
    expect(body).toContain(`href="/lots/${pack}"`);
    expect(body).toContain('href="/recall?check=K2"');
    const recall = (await open('/recall?check=K2')).body;
    expect(recall).toContain(`href="/lots/${pack}"`);
    expect(recall).toMatch(/T8: no check before it found it right, found wrong .*K2/);
    expect((await open('/recall?check=K99')).statusCode).toBe(404);
  });

  test('its file has every jar with where it went, and its PDF the same, with what was kept and where', async () => {
    const pack = await aPack(boil, { packedAt: '2026-03-20T08:00' });
    const codes: string[] = [];
    for await (const jar of jarsOfPack(at.book.read, 'home', pack)) codes.push(printedJarCode(jar.code));
    const gone = { lot: pack, sentAt: '2026-03-20T09:00', by: 'JP' };
    await write('dispatches', {
      ...gone,
      jars: codes.slice(0, 2),
      to: 'Notch Road Farm Stand',
      contact: '802 555 0142',
    });
    await write('dispatches', { ...gone, jars: '1', to: 'cellar shelf, right', kind: 'retained' });
    const file = await open(`/recall/jars.csv?lot=${pack}`);
    const lines = file.body.trimEnd().split('\r\n').slice(1);
    expect(lines.map((line) => line.split(',')[0]?.replaceAll('"', ''))).toEqual(codes);
    expect(lines.filter((line) => line.includes('"Notch Road Farm Stand","802 555 0142"'))).toHaveLength(2);
    const list = await open(`/recall/list.pdf?lot=${pack}`);
    const text = (await readPdf(list.rawPayload)).pages
      .map((page) => page.text)
      .join(' ')
      .replace(/\s+/g, ' ');
    expect(text).toMatch(/Kept, destroyed and come home .*kept back to compare .*cellar shelf, right/);
    for (const code of codes) expect(text).toContain(code);
    expect((await open('/recall/jars.csv?lot=26300A')).statusCode).toBe(404);
  });

  test('an unknown thermometer and a day that is none are refused in words', async () => {
    const unknown = await open('/recall?thermometer=T77');
    expect([unknown.statusCode, unknown.body.includes('T77')]).toEqual([404, true]);
    expect((await open('/recall?day=yesterday')).statusCode).toBe(422);
    expect((await open('/recall/list.pdf?thermometer=T77')).statusCode).toBe(404);
  });

  test('is declared once for all the lots it began from, with its reason', async () => {
    const { body } = await open('/recall?thermometer=T9');
    const form = new URLSearchParams(marksIn(body));
    for (const [, code] of body.matchAll(/name="lot" value="([^"]+)">/g)) form.append('lot', code ?? '');
    const declare = () =>
      at.web.inject({
        method: 'POST',
        url: '/recall',
        payload: form.toString(),
        headers: {
          'content-type': 'application/x-www-form-urlencoded',
          origin: 'http://localhost',
          cookie: cookies['WE'] ?? '',
        },
      });
    expect((await declare()).statusCode).toBe(422);
    form.set('why', 'T9 read 5 degrees too high');
    const before = await entries();
    expect((await declare()).statusCode).toBe(303);
    expect((await declare()).statusCode).toBe(303);
    expect(await entries()).toBe(before + ofBoth.length);
    expect(await Promise.all(ofBoth.map(state))).toEqual(['recalled', 'recalled']);
    expect(await state(day.pack)).toBe('open');
    expect((await open('/recall?thermometer=T9')).body).not.toContain('Recall them all');
  });
});

describe('a practice recall', () => {
  const begin = async (): Promise<string> => {
    const drawn = await send('/recall/practise/begin', marksIn((await open('/recall/practise')).body));
    expect(drawn.statusCode).toBe(303);
    return String(drawn.headers.location);
  };

  test('draws a jar, runs a clock, and the balance that closes it is on the record', async () => {
    const running = await begin();
    const { body } = await open(running);
    expect(body).toContain('data-since="2026-03-20T12:00:00-04:00" data-seconds');
    expect(body).toMatch(/<dt id="boils">|<dt>Boils<\/dt>/);
    const [begun] = await kept('practice-recall');
    expect(begun?.body).toMatchObject({ jar: expect.stringMatching(/^[0-9A-Z]{4}-[0-9A-Z]{4}$/), result: '' });
    expect((await open('/recall/practise')).body).toContain(`href="${running}">Go on with it`);
    expect((await open('/season/2026')).body).toContain('No practice recall was held this season.');
    at.clock.now = new Date(at.clock.now.getTime() + 95_000);
    const before = await entries();
    for (const _ of [1, 2]) {
      const closed = await send(running, { ...marksIn(body), onShelf: '0' });
      expect(closed.headers.location).toBe('/recall/practise');
      at.clock.now = new Date(at.clock.now.getTime() + 5_000);
    }
    expect(await entries()).toBe(before + 1);
    const [practised] = await kept('practice-recall');
    expect(practised?.body).toMatchObject({ seconds: 95, jar: begun?.body['jar'] });
    expect(practised?.body['result']).toMatch(/^\d+ of \d+ jars of .*; boils /);
    expect((await open('/recall/practise')).body).toContain(String(practised?.body['result']));
    const season = (await open('/season/2026')).body;
    expect(season).not.toContain('No practice recall was held this season.');
    expect(season).toContain(`<b>2 minutes</b> ${String(practised?.body['result'])}`);
  });

  test('its clock runs from its first entry: no address and no form moves it, and a second close is refused', async () => {
    const running = await begin();
    const { body } = await open(`${running}?since=2020-01-01T00:00:00Z`);
    at.clock.now = new Date(at.clock.now.getTime() + 60_000);
    const moved = { since: at.clock.now.toISOString(), at: at.clock.now.toISOString(), seconds: '1' };
    await send(running, { ...marksIn(body), ...moved });
    const last = (await kept('practice-recall')).at(-1);
    expect(last?.body['seconds']).toBe(60);
    const again = await send(running, { _once: 'another-close-of-it', onShelf: '3' });
    expect(again.statusCode).toBe(422);
    expect((await kept('practice-recall')).at(-1)?.body).toEqual(last?.body);
    expect(await verifyBook(at.book)).toMatchObject({ ok: true });
  });

  test('the same form sent twice begins once', async () => {
    const marks = marksIn((await open('/recall/practise')).body);
    const before = await entries();
    const first = await send('/recall/practise/begin', marks);
    expect((await send('/recall/practise/begin', marks)).headers.location).toBe(first.headers.location);
    expect(await entries()).toBe(before + 1);
  });

  test('jars that the count lacks are unaccounted for; a count that is none, and a clock of yesterday, are refused', async () => {
    const running = await begin();
    const begun = (await kept('practice-recall')).at(-1)?.body;
    const lot = String(begun?.['lot']);
    expect((await open(running)).body).toContain(String(begun?.['jar']));
    const { made, sentOut, destroyed, other } = await balanceOf(at.book.read, 'home', lot, utcOf(at.clock.now));
    const elsewhere = sentOut + destroyed + other;
    const close = (more: Record<string, string>) =>
      send(running, { _once: `close-${Object.values(more).join()}`, ...more });
    expect((await close({ onShelf: 'some' })).statusCode).toBe(422);
    const before = at.clock.now;
    at.clock.now = new Date(before.getTime() + 90_000_000);
    expect((await close({ onShelf: '4' })).statusCode).toBe(409);
    at.clock.now = new Date(before.getTime() + 1000);
    await close({ onShelf: '0' });
    expect((await kept('practice-recall')).at(-1)?.body['result']).toContain(
      `${elsewhere} of ${made} jars of ${lot}: ${made > elsewhere ? `${made - elsewhere} unaccounted for` : 'all accounted for'}`,
    );
    expect((await open('/recall/practise/P9999')).statusCode).toBe(404);
  });
});
