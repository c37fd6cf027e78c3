import { beforeAll, describe, expect, test } from '@jest/globals';
import { jarsOfPack } from '#libs/store/queries/lots.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';
import { readPdf } from '../support/read-pdf.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const here = recallSuite();
const { cookies, open, send, entries, state, write, aPack } = here;

describe('a recall that begins from a thermometer or a day', () => {
  let ofBoth: string[] = [];
  beforeAll(async () => {
    // The day after the packs, when their seals can be checked and jars go out.
    here.at.clock.now = new Date('2026-03-21T16:00:00Z');
    const packedAt = { packedAt: '2026-03-20T09:00' };
    ofBoth = [
      await aPack(here.boil, { ...packedAt, fillTemps: ['186 F#T9'] }),
      await aPack(here.boil, { packedAt: '2026-03-20T09:30', fillTemps: ['187 F#T9', '186 F#T2'] }),
    ];
    await write('dispatches', {
      lot: ofBoth[0],
      jars: '4',
      sentAt: '2026-03-21T10:00',
      to: 'Millrace Green',
      contact: 'stall 3',
      by: 'JP',
    });
  });

  test('lists the packs it reaches, their reconciliation and where they went; opening it writes nothing', async () => {
    const before = await entries();
    const { statusCode, body } = await open('/recall?thermometer=t9');
    expect(statusCode).toBe(200);
    for (const pack of ofBoth) expect(body).toContain(`href="/lots/${pack}"`);
    expect(body).not.toContain(`href="/lots/${here.day.pack}"`);
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

  test('a check that an instrument failed shows the suspect lots on its own page, and links to their recall', async () => {
    const pack = await aPack(here.boil, { packedAt: '2026-03-20T10:00', instruments: 'T8' });
    const form = '/supporting-records/checks/new';
    const result = { instrument: 'T8', how: 'ice', should: '32 F', at: '2026-03-20T11:00' };
    const right = await send(form, { ...hiddenFieldsIn((await open(form)).body), ...result, id: 'K1', reads: '32 F' });
    expect(right.headers.location).toBe('/supporting-records/checks');
    const wrong = { ...result, id: 'K2', reads: '36 F', at: '2026-03-20T11:30' };
    const failed = await send(form, { ...hiddenFieldsIn((await open(form)).body), ...wrong });
    expect(failed.headers.location).toBe('/records/check/K2');
    // The good check is between the pack and the bad one; without it the pack is suspect.
    expect((await open('/records/check/K2')).body).toContain(
      'No reading recorded in that period names this instrument.',
    );
    const correct = '/records/check/K1/correct';
    await send(correct, {
      ...hiddenFieldsIn((await open(correct)).body),
      'correction~why': 'read again',
      reads: '37 F',
    });
    const { body } = await open('/records/check/K2');
    expect(body).toContain(`href="/lots/${pack}"`);
    expect(body).toContain('href="/recall?check=K2"');
    const recall = (await open('/recall?check=K2')).body;
    expect(recall).toContain(`href="/lots/${pack}"`);
    expect(recall).toMatch(/T8: no earlier check passed, failed a check .*K2/);
    expect((await open('/recall?check=K99')).statusCode).toBe(404);
  });

  test('its file has every jar with where it went, and its PDF the same, with the retained jars and where they are', async () => {
    const pack = await aPack(here.boil, { packedAt: '2026-03-20T08:00' });
    const codes: string[] = [];
    for await (const jar of jarsOfPack(sugarhouseReader(here.at.book.read, 'home'), pack))
      codes.push(printedJarCode(jar.code));
    const gone = { lot: pack, sentAt: '2026-03-21T09:00', by: 'JP' };
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
    expect(text).toMatch(/Kept, destroyed and returned .*retained sample .*cellar shelf, right/);
    for (const code of codes) expect(text).toContain(code);
    expect((await open('/recall/jars.csv?lot=26300A')).statusCode).toBe(404);
  });

  test('the packs filled from the same syrup stand apart on page, PDF and API, and can be added', async () => {
    const [one, other] = ofBoth as [string, string];
    const { body } = await open(`/recall?lot=${one}`);
    const same = body.split('Packed from the same syrup, not on this list')[1] ?? '';
    expect(same).toMatch(new RegExp(`href="/lots/${other}".*packed .* from ${here.boil}, 6 jars`, 's'));
    const added = /href="(\/recall\?[^"]*)">Add them to the list/.exec(same)?.[1]?.replaceAll('&amp;', '&') ?? '';
    const all = (await open(added)).body;
    expect(all).toContain(`href="/lots/${other}"`);
    expect(all).not.toContain('Packed from the same syrup');
    const list = await readPdf((await open(`/recall/list.pdf?lot=${one}`)).rawPayload);
    expect(list.text.replace(/\s+/g, ' ')).toMatch(new RegExp(`not on this list .*${other} .* ${here.boil} 6 open`));
  });

  test('an unknown thermometer and an invalid day are refused with a sentence', async () => {
    const unknown = await open('/recall?thermometer=T77');
    expect([unknown.statusCode, unknown.body.includes('T77')]).toEqual([404, true]);
    expect((await open('/recall?day=yesterday')).statusCode).toBe(422);
    expect((await open('/recall/list.pdf?thermometer=T77')).statusCode).toBe(404);
  });

  test('is declared once for all the lots it began from, with its reason', async () => {
    const { body } = await open('/recall?thermometer=T9');
    const form = new URLSearchParams(hiddenFieldsIn(body));
    for (const [, code] of body.matchAll(/name="lot" value="([^"]+)"/g)) form.append('lot', code ?? '');
    const declare = () =>
      here.at.web.inject({
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
    // Its readings name no thermometer, so a bad one may hold it; nobody recalled it.
    expect(await state(here.day.pack)).toBe('held');
    expect((await open('/recall?thermometer=T9')).body).not.toContain('Recall them all');
  });
});
