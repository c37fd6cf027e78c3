import { describe, expect, test } from '@jest/globals';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import { findLot } from '#libs/store/queries/lots.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';
import { posted } from '../support/server.js';
import { readPdf } from '../support/read-pdf.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const here = recallSuite();
const { cookies, open, send, entries, records: saved, state, aPack, firstJar } = here;

describe('a returned bad jar', () => {
  test('it is found by its code, by its scanned label or by its lot; an unknown code is reported', async () => {
    const code = printedJarCode(here.day.jars[0] ?? '');
    for (const typed of [code, code.toLowerCase(), `HTTPS://BOOK.EXAMPLE/J/${here.day.jars[0]}`])
      expect((await open(`/returns?q=${encodeURIComponent(typed)}`)).headers.location).toBe(`/returns/${code}`);
    expect((await open(`/returns?q=${here.day.pack}`)).headers.location).toBe(`/returns/${here.day.pack}`);
    expect((await open('/returns?q=nonesuch')).body).toContain('No jar or pack found for');
    expect((await open(`/returns?q=${here.boil}`)).statusCode).toBe(200);
  });

  test('its page shows where the retained sample is, and fills in nothing for the maker', async () => {
    const { body } = await open(`/returns/${here.day.jars[0]}`);
    expect(body).toContain('<b>cellar shelf, left</b>: 1 jar');
    expect(body).toContain(`href="/recall?lot=${here.day.pack}"`);
    expect((await open(`/lots/${here.day.pack}`)).body).toContain(
      '<dt>retained samples</dt><dd><b>1 jar, cellar shelf, left</b>',
    );
    expect(body.match(/<(input|textarea)[^>]*name="(said|density|densityAt)"[^>]*value="[^"]+"/)).toBeNull();
    expect(body).not.toMatch(/value="[^"]+" checked/);
    expect((await open(`/returns/${await firstJar(here.day.cold)}`)).body).toContain(
      'No sample of this lot was retained',
    );
  });

  test('whether to hold the lot must be answered, and typed text stays if it isn’t', async () => {
    const url = `/returns/${here.day.jars[0]}`;
    const before = await entries();
    const answer = await send(url, { ...hiddenFieldsIn((await open(url)).body), said: 'tastes of the pan' });
    expect([answer.statusCode, await entries()]).toEqual([422, before]);
    expect(answer.body).toContain('tastes of the pan');
    expect(answer.body).toContain('href="#f-hold"');
  });

  test('the observations become a complaint about the jar’s lot, and hold it once though sent twice', async () => {
    const pack = await aPack(here.boil);
    const url = `/returns/${await firstJar(pack)}`;
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
    const hidden = hiddenFieldsIn((await open(url)).body);
    const before = await entries();
    for (const _ of [1, 2]) expect((await send(url, { ...hidden, ...fields })).headers.location).toBe(`/lots/${pack}`);
    expect([await entries(), await state(pack)]).toEqual([before + 2, 'held']);
    const { said: formatted, seal, mould, smell } = fields;
    const written = (await saved('complaint')).at(-1);
    expect(written?.body).toMatchObject({
      lot: pack,
      by: 'WE',
      said: formatted,
      seal,
      mould,
      smell,
      density: { typed: '64 Bx' },
    });
    expect(written?.body['judged']).toMatchObject({ asks: 'hold', brix: 64.0 });
    for (const place of [`/lots/${pack}`, '/season/2026']) {
      const { body } = await open(place);
      expect(body).toContain('Returned jars and complaints');
      expect(body).toMatch(
        /seal was loose, mould no, smell fermented or sour, density 64 °Bx at 68 °F: 64\.0 ± 0\.\d °Bx/,
      );
    }
    const summary = await here.at.web.inject({
      url: '/api/seasons/2026/summary.pdf',
      headers: { cookie: cookies['WE'] ?? '' },
    });
    const text = (await readPdf(summary.rawPayload)).pages.map((page) => page.text).join(' ');
    expect(text.replace(/\s+/g, ' ')).toContain('smell fermented or sour');
    expect(await verifyBook(here.at.book)).toMatchObject({ ok: true });
  });

  test('the verdict on the readings is shown before the question whether to hold, and writes nothing', async () => {
    const pack = await aPack(here.boil);
    const url = `/returns/${await firstJar(pack)}`;
    const request = async (fields: Record<string, string>): Promise<string> => {
      const answer = await send(url, { ...hiddenFieldsIn((await open(url)).body), said: 'odd', ...fields });
      expect(answer.statusCode).toBe(422);
      return answer.body;
    };
    expect((await open(url)).body).toContain('Density when packed: <b>60.4 °Bx at 185 °F, ');
    const before = await entries();
    // The same chart and formula as on the packing day: 60.4 on the hydrometer at 185 °F passes, 59 does not.
    const float = { 'density~unit': 'Bx', densityAt: '185 F', densityBy: 'hydrometer' };
    expect(await request({ seal: 'held', mould: 'no', smell: 'sound', density: '60.4', ...float })).not.toContain(
      'HOLD IT',
    );
    const thin = await request({ density: '59', ...float });
    expect(thin).toContain('HOLD IT');
    expect(thin).toMatch(/the chart requires .*Syrup that is too thin moulds and ferments/s);
    const withoutTemperature = await request({ density: '66.9 Bx', densityBy: 'hydrometer' });
    expect(withoutTemperature).toMatch(/without the temperature of the sample/);
    const loose = await request({ seal: 'was-loose' });
    expect(loose).toMatch(/HOLD IT.*the lid was loose.*USDA Agriculture Information Bulletin 539/s);
    const stoodOpen = await request({ mould: 'yes', came: 'opened-warm' });
    expect(stoodOpen).toMatch(/mould in a jar that was opened and kept warm.*don’t boil it again/s);
    expect(await entries()).toBe(before);
  });

  test('free text of an older book stays as it is, also when another field of the complaint is corrected', async () => {
    const context = { sugarhouse: 'home', by: 'OE', author: 'OE', now: here.at.clock.now, zone: 'America/New_York' };
    const result = { lot: here.day.pack, said: 'lid', seal: 'not down, it flexed', smell: 'of the pan' };
    const done = await record(here.at.book, context, kindByName.get('complaint')!, result);
    if ('problem' in done) throw new Error(JSON.stringify(done.problem));
    const correct = `/records/complaint/${done.id}/correct`;
    const { body } = await open(correct);
    await send(correct, { ...hiddenFieldsIn(body), why: 'looked', done: 'took it back' });
    expect((await saved('complaint')).find(({ id }) => id === done.id)?.body).toMatchObject({
      ...result,
      done: 'took it back',
      judged: { asks: 'nothing' },
    });
  });

  test('if the answer is not to hold, the lot stays open', async () => {
    const pack = await aPack(here.boil);
    const url = `/returns/${await firstJar(pack)}`;
    await send(url, { ...hiddenFieldsIn((await open(url)).body), said: 'dented lid', mould: 'no', hold: 'no' });
    expect(await state(pack)).toBe('open');
  });

  test('mould holds the lot and those it was poured into, whatever was chosen, and can’t be released', async () => {
    const pack = await aPack(here.boil);
    const again = await aPack(pack, { fromLots: [`${pack}:45 fl oz`], jars: '5' });
    const url = `/returns/${await firstJar(pack)}`;
    await send(url, { ...hiddenFieldsIn((await open(url)).body), said: 'something grows', mould: 'yes', hold: 'no' });
    for (const lot of [pack, again]) {
      const stood = await findLot(sugarhouseReader(here.at.book.read, 'home'), lot);
      expect([stood?.state, stood?.verdict?.findings[0]?.rule]).toEqual(['held', 'mould']);
      const letGo = `/lots/${lot}/release`;
      const refused = await send(letGo, { ...hiddenFieldsIn((await open(letGo)).body), why: 'boiled again' });
      expect(refused.body).toContain('Mouldy syrup is destroyed, never released.');
      expect(await state(lot)).toBe('held');
    }
    // The other pack of the same boil is not held.
    expect(await state(await aPack(here.boil))).toBe('open');
    expect(await verifyBook(here.at.book)).toMatchObject({ ok: true });
  });

  test('a maker who inspected the jar confirms mould that a customer reported, and that holds the lot', async () => {
    const pack = await aPack(here.boil);
    const url = `/j/${await firstJar(pack)}/report`;
    await posted(here.at, url, { ...hiddenFieldsIn((await here.at.web.inject(url)).body), said: 'mould on top' });
    // A customer's report warns at once; it holds the lot when a maker has accepted it.
    expect(await state(pack)).toBe('open');
    const page = (await open(`/lots/${pack}`)).body;
    expect(page).toContain('“mould on top” Read it before more of this lot is sent out.');
    const report = /href="(\/returns\/reports\/[\w-]+)"/.exec(page)?.[1] ?? '';
    expect((await open(report)).body).toContain('It may be about mould, spoilage or the seal.');
    expect((await open(report, 'JP')).statusCode).toBe(403);
    expect((await send(`${report}/take`, hiddenFieldsIn((await open(report)).body))).statusCode).toBe(303);
    expect((await findLot(sugarhouseReader(here.at.book.read, 'home'), pack))?.verdict?.findings[0]?.rule).toBe(
      'spoilage-question',
    );
    expect(await state(pack)).toBe('held');
    const id = (await saved('complaint')).find(({ lot }) => lot === pack)?.id ?? '';
    const correct = `/records/complaint/${id}/correct`;
    await send(correct, { ...hiddenFieldsIn((await open(correct)).body), why: 'looked at it', mould: 'yes' });
    expect((await findLot(sugarhouseReader(here.at.book.read, 'home'), pack))?.verdict?.findings[0]?.rule).toBe(
      'mould',
    );
    expect(await state(pack)).toBe('held');
  });

  // Last, since two mouldy jars of one boil hold its other packs.
  test.each<[string, Record<string, string>]>([
    ['mould', { mould: 'yes' }],
    ['a jar of which nobody knows whether it is mouldy', { mould: 'not-known' }],
    ['a jar that spurted', { seal: 'spurting' }],
    ['a sour smell', { smell: 'fermented-or-sour' }],
  ])('%s holds the lot without the question whether to hold it', async (_, inspected) => {
    const pack = await aPack(here.boil);
    const url = `/returns/${await firstJar(pack)}`;
    const blank = (await open(url)).body;
    expect(blank).toMatch(/class="group may-be-decided"[^]*class="decided">Save holds the lot, and every lot/);
    const answer = await send(url, { ...hiddenFieldsIn(blank), said: 'odd', ...inspected });
    expect([answer.statusCode, answer.headers.location]).toEqual([303, `/lots/${pack}`]);
    expect(await state(pack)).toBe('held');
  });

  test('a helper may read but not write here', async () => {
    const url = `/returns/${here.day.jars[0]}`;
    const looked = await open(url, 'JP');
    expect([looked.statusCode, looked.body.includes('name="said"')]).toEqual([200, false]);
    expect((await send(url, { said: 'x', hold: 'no' }, 'JP')).statusCode).toBe(403);
  });
});
