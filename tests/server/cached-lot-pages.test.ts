import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addHouse } from '#libs/actions/accounts/add-house.js';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { makeGuestLink } from '#libs/actions/accounts/sign-in.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { record } from '#libs/actions/record/record.js';
import { houses } from '#libs/actions/kinds/house.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { writeBigBook } from '../generator/big-book.js';
import { hiddenFieldsIn } from '../support/recall-suite.js';
import { engines, type Engine } from '../support/engines.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';

/**
 * Pages of packs and jars that a server has rendered before. `cached-season` compares them after each kind of write with
 * those of a server that has read nothing yet.
 */
describe.each(engines())('Cached pages of packs and jars on $name', (engine: Engine) => {
  const password = 'two kettles on one arch';
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', zone: 'America/New_York' };
  let one: TestServer;
  let other: TestServer;
  let [boil, pack, beside] = ['', '', ''];
  let jars: string[] = [];
  const cookies = new Map<string, string>();

  beforeAll(async () => {
    await engine.start();
    const location = await engine.freshKeeping();
    const same = { engine: { ...engine, freshKeeping: () => Promise.resolve(location) } };
    [one, other] = [await startServer({}, same), await startServer({}, same)];
    setClocks('2006-03-05T12:00:00Z');
    await record(one.book, { ...context, now: one.clock.now }, houses, {
      name: 'Tamarack Hollow',
      place: 'Vermont',
      hydrometerMadeFor: '60-F',
    });
    boil = (await writeBigBook(one.book, 4)).lastBoil;
    [pack, beside] = [`${boil}-2`, `${boil}-1`];
    jars = await jarsOf(pack);
    for (const [initials, role] of [
      ['WE', 'owner'],
      ['HE', 'helper'],
    ] as const)
      await addPerson(one.book, 'home', { initials, role, password });
    for (const initials of ['WE', 'HE'])
      for (const server of [one, other])
        cookies.set(`${initials} ${server === one}`, await signedIn(server, initials, password));
    const link = await makeGuestLink(one.book, 'home', { name: 'Inspector', days: 7, by: 'WE' }, one.clock.now);
    if ('problem' in link) throw new Error('no link');
    cookies.set('GU true', cookieOf(await posted(one, `/guest/${link.token}`, {})));
  }, 60_000);
  afterAll(async () => {
    await one.close();
    await other.close();
    await engine.stop();
  });

  const setClocks = (at: string): void => {
    for (const server of [one, other]) server.clock.now = new Date(at);
  };
  const cookieOf = ({ cookies: given }: Awaited<ReturnType<typeof posted>>): string =>
    given.map((each) => `${each.name}=${each.value}`).join('; ');
  const jarsOf = async (lot: string): Promise<string[]> =>
    (await one.book.read.rows<{ code: string }>`SELECT code FROM jar WHERE pack = ${lot} ORDER BY n`).map(
      ({ code }) => code,
    );
  async function page(server: TestServer, url: string, initials = 'WE'): Promise<string> {
    const cookie = cookies.get(`${initials} ${server === one}`)!;
    const { statusCode, body } = await server.web.inject({ url, headers: { cookie } });
    expect([url, statusCode]).toEqual([url, 200]);
    return body.replace(/[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/g, '');
  }
  const addresses = () => [`/lots/${pack}`, `/lots/${beside}`, ...jars.slice(0, 5).map((jar) => `/jars/${jar}`)];
  const readAll = async (server: TestServer) => {
    const bodies: string[] = [];
    for (const url of addresses()) bodies.push(await page(server, url));
    return bodies;
  };
  const post = async (server: TestServer, url: string, fields: Record<string, string>): Promise<void> => {
    const sent = await posted(server, url, { by: 'WE', ...fields }, { cookie: cookies.get(`WE ${server === one}`)! });
    expect([url, sent.statusCode]).toEqual([url, 303]);
  };
  const stamped = (html: string): boolean => /<span class="stamp (held|recalled)">/.test(html);

  test('a jar’s page read again asks only who is signed in, a pack’s one statement more; a further jar of a pack, by page or API, those of the jar', async () => {
    await readAll(one);
    const asked = async (url: string): Promise<number> => {
      const read = one.book.read as { -readonly [K in keyof typeof one.book.read]: (typeof one.book.read)[K] };
      const { rows, row, statement } = read;
      let count = 0;
      const counted = <F extends (...args: never[]) => unknown>(ask: F): F =>
        ((...args: Parameters<F>) => (count++, ask(...args))) as F;
      Object.assign(read, { rows: counted(rows), row: counted(row), statement: counted(statement) });
      await page(one, url);
      Object.assign(read, { rows, row, statement });
      return count;
    };
    expect(await asked(`/lots/${pack}`)).toBeLessThanOrEqual(2);
    expect(await asked(`/jars/${jars[0]}`)).toBe(1);
    expect(await asked(`/jars/${jars[20]}`)).toBeLessThanOrEqual(3);
    expect(await asked(`/jars/${jars[20]}`)).toBe(1);
    for (const jar of [jars[0], jars[20]]) expect(await asked(`/api/jars/${jar}`)).toBeLessThanOrEqual(3);
  });

  test('each role has its own page of a pack and of a jar, and each person their own name', async () => {
    for (const url of [`/lots/${pack}`, `/jars/${jars[0]}`, `/lots/${pack}`, `/jars/${jars[0]}`]) {
      const [owners, helpers, guests] = [await page(one, url), await page(one, url, 'HE'), await page(one, url, 'GU')];
      const shown = (html: string) =>
        ['WE, owner', 'HE, helper', 'Inspector', `/lots/${pack}/hold`].map((word) => html.includes(word));
      expect({ url, shown: [owners, helpers, guests].map(shown) }).toEqual({
        url,
        shown: [
          [true, false, false, true],
          [false, true, false, false],
          [false, false, true, false],
        ],
      });
    }
  });

  test('a jar’s page shows its own code and number, under every spelling of the code', async () => {
    for (const jar of [jars[0]!, jars[1]!, jars[0]!]) {
      const own = await page(one, `/jars/${jar}`);
      expect(own).toContain(`<h1 class="code">${printedJarCode(jar)}</h1>`);
      expect(own).toContain(`Jar ${jars.indexOf(jar) + 1} of`);
      for (const typed of [printedJarCode(jar), jar.toLowerCase()]) expect(await page(one, `/jars/${typed}`)).toBe(own);
    }
  });

  test('a pack that the other server holds is held at once, with its jars, and so is one whose boil is held', async () => {
    for (const server of [one, other, one, other]) await readAll(server);
    expect((await readAll(one)).some(stamped)).toBe(false);
    await post(other, `/lots/${pack}/hold`, { why: 'a doubt about the lid' });
    for (const server of [one, other])
      expect((await readAll(server)).map(stamped)).toEqual([true, false, true, true, true, true, true]);
    await post(other, `/lots/${boil}/hold`, { why: 'a doubt about the pan' });
    for (const server of [one, other]) expect((await readAll(server)).every(stamped)).toBe(true);
    expect(await readAll(one)).toEqual(await readAll(other));
  });

  test('a page that was being read while the other server held its lot is not cached as it was', async () => {
    const third = `${boil}-3`;
    const url = `/jars/${(await jarsOf(third))[0]}`;
    await post(other, `/lots/${boil}/release`, { why: 'the pan was clean' });
    let goOn = (): void => {};
    let reached = (): void => {};
    const isReading = new Promise<void>((resolve) => (reached = resolve));
    const mayGoOn = new Promise<void>((resolve) => (goOn = resolve));
    const read = one.book.read as { -readonly [K in keyof typeof one.book.read]: (typeof one.book.read)[K] };
    const { statement } = read;
    // Its last statement is of the records that are drawn: the lot and its verdict are read by then.
    read.statement = async (...ask: Parameters<typeof statement>) => {
      if (ask[0].includes('UNION ALL SELECT * FROM record')) {
        reached();
        await mayGoOn;
      }
      return statement(...ask);
    };
    const slow = page(one, url);
    await isReading;
    read.statement = statement;
    await post(other, `/lots/${third}/hold`, { why: 'a doubt about the lid' });
    expect(stamped(await page(one, url))).toBe(true);
    goOn();
    expect(stamped(await slow)).toBe(false);
    expect(stamped(await page(one, url))).toBe(true);
    await post(other, `/lots/${third}/release`, { why: 'the lid was sound' });
  });

  test('a correction, a void and jars that went out by the other server show at once', async () => {
    const fourth = `/jars/${jars[3]}`;
    for (const server of [one, other]) await readAll(server);
    expect(await page(one, fourth)).toContain('Went to');
    const sent = (await one.book.read.row<{
      id: string;
    }>`SELECT id FROM record WHERE kind = 'dispatch' AND lot = ${pack}
      AND id LIKE 'T%'`)!.id;
    await post(other, `/records/dispatch/${sent}/void`, { why: 'never left' });
    expect(await page(one, fourth)).not.toContain('Where this jar went');
    expect(await readAll(one)).toEqual(await readAll(other));
  });

  test('what depends on the time follows the clock: a planned dispatch, the next day, and a clock set back', async () => {
    const dispatches = importKinds.find((each) => each.plural === 'dispatches')!;
    const third = `${boil}-3`;
    const [jar = ''] = await jarsOf(third);
    const urls = [`/lots/${third}`, `/jars/${jar}`, `/api/jars/${jar}`];
    const read = async (): Promise<string[]> => {
      const bodies: string[] = [];
      for (const url of urls) bodies.push(await page(one, url));
      return bodies;
    };
    const fresh = async (): Promise<string[]> => {
      const location = one.book.location;
      const server = await startServer({}, { engine: { ...engine, freshKeeping: () => Promise.resolve(location) } });
      server.clock.now = one.clock.now;
      try {
        cookies.set('NEW false', cookies.get('WE true')!);
        const bodies: string[] = [];
        for (const url of urls) bodies.push(await page(server, url, 'NEW'));
        return bodies;
      } finally {
        await server.close();
      }
    };
    const now = { ...context, now: one.clock.now };
    const saved = await record(one.book, now, dispatches, {
      lot: third,
      jars: '2',
      sentAt: '2006-03-05T14:00-05:00',
      to: 'Millrace Green market',
      by: 'WE',
    });
    expect(saved).not.toHaveProperty('problem');
    for (const at of [
      ...['2006-03-05T12:01:00Z', '2006-03-05T19:00:00Z', '2006-03-05T18:00:00Z', '2006-03-06T16:00:00Z'],
      ...['2006-12-31T20:00:00Z', '2007-01-02T20:00:00Z', '2006-03-06T16:00:00Z'],
    ]) {
      setClocks(at);
      cookies.set('WE true', await signedIn(one, 'WE', password));
      const shown = [await read(), await read()];
      const expected = await fresh();
      expect({ at, pages: shown }).toEqual({ at, pages: [expected, expected] });
    }
  });

  test('a customer’s report shows on the pack’s page at once, though it is no entry of the log', async () => {
    const third = `${boil}-3`;
    const [jar = ''] = await jarsOf(third);
    for (const _ of [1, 2]) expect(await page(one, `/lots/${third}`)).not.toContain('tasted of smoke');
    const form = await other.web.inject(`/J/${jar}/report`);
    const fields = { ...hiddenFieldsIn(form.body), said: 'It tasted of smoke', reach: '802 555 0123' };
    expect((await posted(other, `/j/${jar}/report`, fields)).statusCode).toBe(303);
    expect(await page(one, `/lots/${third}`)).toContain('tasted of smoke');
  });

  test('a lot of the same code in another sugarhouse of the book has its own page', async () => {
    const now = { ...context, now: one.clock.now };
    expect(
      await addHouse(one.book, now, 'harrow', {
        name: 'Harrow Notch',
        prefix: 'HN',
        town: 'Notch',
        place: 'Vermont',
        hydrometerMadeFor: '60-F',
      }),
    ).not.toHaveProperty('problem');
    await addPerson(one.book, 'harrow', { initials: 'ZZ', role: 'owner', password });
    const theirs = { ...now, sugarhouse: 'harrow', by: 'ZZ', author: 'ZZ' };
    for (const [plural, sent] of [
      ['boils', { id: boil, beganAt: '2006-03-01T08:00', finishedAt: '2006-03-01T18:00', syrupVolume: '9 gal' }],
      [
        'packs',
        { id: pack, fromLots: `${boil}:2 gal`, packedAt: '2006-03-02T08:00', container: 'pint jar', jars: '7' },
      ],
    ] as const) {
      const kind = importKinds.find((each) => each.plural === plural)!;
      expect(await record(one.book, theirs, kind, { by: 'ZZ', ...sent })).not.toHaveProperty('problem');
    }
    const answer = await posted(one, '/sign-in', { house: 'harrow', initials: 'ZZ', password });
    cookies.set('ZZ true', cookieOf(answer));
    const [own, other] = [await page(one, `/lots/${pack}`), await page(one, `/lots/${pack}`, 'ZZ')];
    expect(await page(one, `/lots/${pack}`, 'ZZ')).toBe(other);
    expect(await page(one, `/lots/${pack}`)).toBe(own);
    expect([own.includes('7 jars'), other.includes('7 jars')]).toEqual([false, true]);
    await holdLot(one.book, theirs, pack, 'theirs only');
    expect(stamped(await page(one, `/lots/${pack}`, 'ZZ'))).toBe(true);
    expect(await page(one, `/lots/${pack}`)).toBe(own);
  });
});
