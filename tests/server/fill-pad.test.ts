import { describe, expect, test } from '@jest/globals';
import { readHead } from '#libs/store/log/log.js';
import { findLot } from '#libs/store/queries/lots.js';
import { nextCheck, parseCheckInterval, usualInterval } from '#libs/syrup/quantities/check-interval.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { keypadServer } from '../support/keypad-server.js';

const pad = keypadServer();
const { send, fill, fills } = pad;

const seen = async (url = `/lots/${pad.pack}`): Promise<string> =>
  (await pad.server.web.inject({ url, headers: { cookie: pad.cookie } })).body
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ');
const typed = async (): Promise<string[]> => (await fills()).map((fill) => fill.typed);
const later = (minutes: number): void => {
  pad.server.clock.now = new Date(pad.server.clock.now.getTime() + minutes * 60_000);
};

describe('the quick form for filling jars', () => {
  test('asks for the first jar, and then shows when the next is due by a usual interval, marked as not a rule', async () => {
    expect(await seen()).toContain('Read the first jar when it is capped.');
    expect((await fill('186')).statusCode).toBe(303);
    const page = await seen();
    expect(page).toContain('186 °F hot enough');
    expect(page).toContain('Next check by 12:15.');
    expect(page).toContain('Every 12 jars or 15 min: common practice, no source.');
  });

  test('takes a rising count of jars: a reading covers those capped since the last count', async () => {
    await fill('185', { upTo: '8' });
    later(4);
    await fill('184', { upTo: '20' });
    expect((await typed()).slice(1)).toEqual(['185 F@12:00 jars 1-8', '184 F@12:04 jars 9-20']);
    expect(await seen()).toMatch(/Next check by 12:19 or at jar 32\. 20 jars counted\./);
    expect(await seen(`/packs/${pad.pack}/finish`)).toContain('The pad counted 20 jars at the last reading.');
  });

  test('refuses a falling count and keeps what was typed; one queued on a phone covers its own jar', async () => {
    const back = await fill('183', { upTo: '12' });
    expect(back.statusCode).toBe(422);
    expect(back.body).toContain(
      'Jars capped so far: enter more than the 20 that are counted already (typed: &quot;12&quot;)',
    );
    expect(back.body).toMatch(/name="temperature" value="183"/);
    const both = await fill('183', { upTo: '24', jars: 'tray 2' });
    expect(both.statusCode).toBe(422);
    for (const [boxes, expected] of [
      [{ jarsFrom: '9', jarsTo: '16', tray: '2' }, 'jars by number or a tray, one of the two'],
      [{ jarsTo: '16' }, 'the first and the last jar by number, like 9 to 16'],
      [{ jarsFrom: '16', jarsTo: '9' }, 'the first and the last jar by number, like 9 to 16'],
    ] as const)
      expect((await fill('183', boxes)).body).toContain(`Which jars it covers: enter ${expected}`);
    expect(await typed()).toHaveLength(3);
    expect((await fill('183', { upTo: '12', takenAt: '2026-03-20T12:03:00-04:00' })).statusCode).toBe(303);
    expect((await typed()).at(-1)).toBe('183 F@12:03 jar 12');
  });

  test('holds, after a cold reading, the jars between the good readings around it', async () => {
    later(4);
    await fill('178', { upTo: '28' });
    const page = await seen();
    expect(page).toContain('178 °F TOO COLD');
    expect(page).toContain('Keep those jars apart.');
    later(16);
    expect(await seen()).toContain('Read a jar now: it was due at 12:23.');
  });

  test('records pouring back with one tap: the reading stays, its jars are not counted, and the lot opens again', async () => {
    const state = async () => (await findLot(sugarhouseReader(pad.server.book.read, 'home'), pad.pack))?.state;
    expect(await state()).toBe('held');
    const cold = (await typed()).at(-1) ?? '';
    expect(await seen()).toContain(`178 °F 12:08 jars 21-28: poured back, filled again`);
    expect((await send(`/packs/${pad.pack}/poured-back`, { reading: '171 F' })).statusCode).toBe(422);
    expect((await send(`/packs/${pad.pack}/poured-back`, { reading: cold })).statusCode).toBe(303);
    expect((await typed()).at(-1)).toBe(`${cold} poured back`);
    expect(await state()).toBe('open');
    const page = await seen();
    expect(page).toContain('20 jars counted');
    expect(page).not.toContain('TOO COLD');
    // A reading that was poured back passes nothing: the jars filled again are still to be read.
    expect(page).toMatch(/178 °F poured back limit .* Read one of the jars that were filled again\./);
    // Tapped twice, the second finds no such reading any more.
    expect((await send(`/packs/${pad.pack}/poured-back`, { reading: cold })).statusCode).toBe(422);
    expect((await fill('184', { upTo: '28' })).statusCode).toBe(303);
    expect((await typed()).at(-1)).toMatch(/jars 21-28$/);
  });

  test('makes the reading after a cold one cover only its own jar, and those between are held', async () => {
    await fill('178', { upTo: '30' });
    await fill('185', { upTo: '36' });
    expect((await typed()).at(-1)).toMatch(/ jar 36$/);
    await send(`/packs/${pad.pack}/poured-back`, { reading: (await typed()).at(-2) ?? '' });
  });

  test('records broken glass with one tap: no reading says how many jars were filled since, so any may hold it', async () => {
    const path = `/packs/${pad.pack}/broken-glass`;
    expect((await send(path, { jar: 'the big one' })).statusCode).toBe(422);
    expect((await send(path, { jar: '37' })).statusCode).toBe(303);
    expect(await seen()).toContain('glass broke at jar 37: jars 35–39 may hold splinters');
    expect((await send(path, {})).statusCode).toBe(303);
    expect(await seen()).toContain('glass broke: at which jar is not recorded, so any of them may hold splinters');
    expect((await findLot(sugarhouseReader(pad.server.book.read, 'home'), pad.pack))?.state).toBe('held');
  });

  test('uses the maker’s own interval instead of the usual one', async () => {
    const wrong = await send('/house', {
      name: 'Tamarack Hollow Sugarhouse',
      place: 'Vermont',
      hydrometerMadeFor: '60-F',
      checkEvery: 'often',
    });
    expect(wrong.statusCode).toBe(422);
    expect(wrong.body).toContain('enter jars, minutes or both, like 12 jars or 15 min (typed: &quot;often&quot;)');
    await send('/house', {
      name: 'Tamarack Hollow Sugarhouse',
      place: 'Vermont',
      hydrometerMadeFor: '60-F',
      checkEvery: '6 jars',
    });
    const page = await seen();
    expect(page).toContain('Next check at jar 42.');
    expect(page).toContain('Every 6 jars.');
    expect(page).not.toContain('common practice, no source. Set');
  });

  test('calculates a jar’s temperature from the syrup, the jar and its weight, and writes nothing', async () => {
    const { entries } = await readHead(pad.server.book.read);
    const page = await seen(
      `/packs/${pad.pack}/jar?syrup=190&syrup~unit=F&glassAt=68&glassAt~unit=F&glass=${encodeURIComponent('190 g')}`,
    );
    // Calculated by hand: 237 mL of 66.9 °Bx at 190 °F weigh 305 g and hold 2.63 kJ/(kg·K); 190 g of glass at 0.84 is a
    // fifth of it.
    expect(page).toMatch(/1(69|70)\.\d °F TOO COLD/);
    expect(page).toContain('the minimum of your place');
    const warm = await seen(`/packs/${pad.pack}/jar?syrup=195&syrup~unit=F&glassAt=180&glassAt~unit=F&glass=190+g`);
    expect(warm).toMatch(/19\d\.\d °F hot enough/);
    const lacks = await seen(`/packs/${pad.pack}/jar?syrup=190`);
    expect(lacks).toContain('Not calculated');
    expect(lacks).toContain('Empty jar weighs: enter');
    expect(lacks).not.toContain('Syrup at the filler: enter');
    expect((await readHead(pad.server.book.read)).entries).toBe(entries);
  });
});

describe('an interval', () => {
  test.each([
    ['12 jars or 15 min', { jars: 12, minutes: 15 }],
    ['10 min', { minutes: 10 }],
    ['1 jar', { jars: 1 }],
    ['20 minutes, 24 jars', { jars: 24, minutes: 20 }],
  ])('accepts %s', (typed, resolved) => {
    expect(parseCheckInterval(typed).value).toEqual({ typed, ...resolved });
  });
  test.each(['', 'often', '0 jars', '12', '12 jars or 6 jars', '10 min or', '-3 jars'])('refuses %s', (typed) => {
    expect(parseCheckInterval(typed).mismatch?.expected).toBe('jars, minutes or both, like 12 jars or 15 min');
  });
  test('counts from the last reading and the jars capped then', () => {
    expect(nextCheck(usualInterval, { atMs: 60_000, jars: 8 })).toEqual({ dueMs: 16 * 60_000, atJar: 20 });
    expect(nextCheck({ typed: '6 jars', jars: 6 }, { atMs: 0, jars: 0 })).toEqual({ dueMs: undefined, atJar: 6 });
  });
});
