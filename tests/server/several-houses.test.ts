import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { record } from '#libs/actions/record/record.js';
import { houses } from '#libs/actions/kinds/house.js';
import { walkLog } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { writeContext, recordOrThrow } from '../support/sugarhouse.js';
import { makeCooperative, asker, member, type Named, password, urlsOf } from '../support/cooperative.js';
import { readPdf } from '../support/read-pdf.js';
import { startServer, type TestServer, posted, signedIn } from '../support/server.js';

/** Several sugarhouses in one book: whose is whose, route by route. */
describe('Several sugarhouses in one book', () => {
  let at: TestServer;
  let there: Awaited<ReturnType<typeof makeCooperative>>;
  beforeAll(async () => {
    at = await startServer();
    at.clock.now = new Date('2026-05-01T22:00:00Z');
    there = await makeCooperative(at);
  });
  afterAll(() => at.close());

  const ask = (key: string, url: string, more: { method?: 'GET' | 'POST'; house?: string; body?: object } = {}) =>
    at.web.inject({
      method: more.method ?? 'GET',
      url,
      headers: { authorization: `Bearer ${key}`, ...(more.house ? { 'boilbook-house': more.house } : {}) },
      ...(more.body ? { payload: more.body } : {}),
    });

  /** The response, without the requested name and whatever differs from one request to the next. */
  const result = (answer: Awaited<ReturnType<typeof ask>>, name: string): string =>
    [answer.statusCode, answer.headers.location ?? '', answer.headers['content-disposition'] ?? '', answer.body]
      .join('\n')
      .replaceAll(name, '¤')
      .replaceAll(`${name.slice(0, 4)}-${name.slice(4)}`, '¤')
      .replace(/[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12}/g, 'once')
      .replace(/"requestId":"[0-9a-f]{8}"/g, 'request');

  /** A jar's code is random and may contain any two letters, so initials are searched for as a whole word. */
  const contains = (text: string, secret: string): boolean =>
    secret.length > 2 ? text.includes(secret) : new RegExp(`\\b${secret}\\b`).test(text);

  /** The bytes of a PDF may contain any two letters by chance, so its text is compared. */
  const isPdf = ({ headers }: Awaited<ReturnType<typeof ask>>): boolean =>
    String(headers['content-type']).startsWith('application/pdf');
  const pdfText = async (bytes: Buffer): Promise<string> =>
    (await readPdf(bytes)).pages.map(({ text }) => text).join('\n');

  const cookieOf = async (house: string, initials: string): Promise<string> => {
    const answer = await posted(at, '/sign-in', { house: house === 'home' ? '' : house, initials, password });
    if (answer.statusCode !== 303) throw new Error(`${initials} was not let in: ${answer.statusCode}`);
    return answer.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
  };

  const memberEntries = async (): Promise<string[]> => {
    const leaves: string[] = [];
    for await (const row of walkLog(at.book.read)) if (row.sugarhouse === member) leaves.push(row.leaf);
    return leaves;
  };

  /**
   * An entry is identified by its number alone, which is too short to search for in a page about something else. A year
   * is the same in every address, and a document of one takes a second: where nothing is sent, such a route is asked once.
   */
  const namesFor = (method: string, path: string): readonly Named[] =>
    path.includes(':seq')
      ? [there.names.entry]
      : (method === 'POST' ? /:/ : /:(?!kind|plural|year|token)/).test(path)
        ? there.names.all
        : [{ there: 'none', nowhere: 'none' }];

  test('route by route: another member’s record is answered like one that doesn’t exist', async () => {
    const before = await memberEntries();
    const faults: string[] = [];
    let request = 0;
    for (const { method, path, access } of at.routes) {
      if (!['GET', 'POST'].includes(method) || access === 'anybody' || path.includes('*')) continue;
      const names: readonly Named[] = namesFor(method, path);
      for (const { there: theirs, nowhere } of names)
        for (const [n, url] of urlsOf(path, theirs).entries()) {
          const body = (name: string) =>
            method === 'POST' ? { body: { lot: name, code: name, id: name, entry: name, why: 'asked' } } : {};
          const answer = await ask(there.keys.asker, url, { method: method as 'GET', ...body(theirs) });
          const twin = await ask(there.keys.asker, urlsOf(path, nowhere)[n]!, {
            method: method as 'GET',
            ...body(nowhere),
          });
          request++;
          if (result(answer, theirs) !== result(twin, nowhere) && /:(?!kind|year|plural)/.test(path))
            faults.push(`${method} ${url}: ${answer.statusCode}, a thing that is nowhere ${twin.statusCode}`);
          if (answer.statusCode >= 500) faults.push(`${method} ${url}: ${answer.statusCode}`);
          const text = isPdf(answer) ? await pdfText(answer.rawPayload) : result(answer, theirs);
          const leaked = there.secrets.filter((secret) => contains(text, secret));
          if (leaked.length > 0) faults.push(`${method} ${url} tells ${leaked.join(', ')}`);
        }
    }
    expect(faults).toEqual([]);
    expect(request).toBeGreaterThan(800);
    expect(await memberEntries()).toEqual(before);
  }, 240_000);

  test('the same texts are shown to the member itself, so the previous test would find them', async () => {
    const list = await ask(there.keys.member, '/api/gatherings');
    expect(list.body).toContain('far bush');
    const one = await ask(there.keys.member, `/api/jars/${there.names.jars[0]}`);
    expect(one.json()).toMatchObject({ code: there.names.jars[0], pack: '26050A-1', boils: ['26050A'] });
    expect((await ask(there.keys.member, `/records/${there.names.entry.there}`)).body).toContain('far bush');
  });

  test('a member cannot name another’s lot in a record of its own', async () => {
    const attempts: readonly [string, object, object][] = [
      ['/api/dispatches', { lot: '26050A-1' }, { jars: '1', sentAt: '2026-05-01T09:00', to: 'Millrace Green' }],
      ['/api/dispatches', { lot: '26077A-1' }, { jars: there.names.jars[0], sentAt: '2026-05-01T09:00', to: 'x' }],
      ['/api/counts', { lot: '26050A-1' }, { jars: '1', countedAt: '2026-05-01T09:00' }],
      ['/api/draws', { boil: '26050A' }, { drawnAt: '2026-05-01T09:00', volume: '1 gal' }],
      ['/api/boils', { gatherings: ['QB-G7:1 gal'] }, { beganAt: '2026-05-01T09:00', syrupVolume: '1 gal' }],
      ['/api/actions', { lot: '26050A-1' }, { found: 'x', done: 'y' }],
      ['/api/corrections', { entry: there.names.entry.there }, { why: 'x', changes: { found: 'z' } }],
      ['/api/corrections', { entry: '26050A' }, { why: 'x', changes: { note: 'z' } }],
    ];
    const before = await memberEntries();
    for (const [n, [url, name, rest]] of attempts.entries()) {
      const answer = await ask(there.keys.asker, url, { method: 'POST', body: { id: `ZZ-${n}`, ...name, ...rest } });
      expect([url, name, [404, 422].includes(answer.statusCode)]).toEqual([url, name, true]);
    }
    expect(await memberEntries()).toEqual(before);
  });

  test('lot codes belong to a house: the same code is a different lot in another house', async () => {
    await recordOrThrow(at.book, 'gathering');
    await recordOrThrow(at.book, 'boil', { syrupVolume: '7 gal' });
    expect((await ask(there.keys.maker, '/api/boils/26077A')).json()).toMatchObject({ syrupVolume: '7 gal' });
    expect((await ask(there.keys.asker, '/api/boils/26077A')).json()).toMatchObject({ syrupVolume: '3 gal' });
  });

  test('only the packer can read a member’s book, naming it in a header, and writes nothing there', async () => {
    const bl = { house: 'BL' };
    expect((await ask(there.keys.packer, '/api/lots/26050A', bl)).json()).toMatchObject({ kind: 'boil' });
    expect((await ask(there.keys.packer, '/api/lots/26050A')).statusCode).toBe(404);
    for (const key of [there.keys.maker, there.keys.asker])
      expect((await ask(key, '/api/lots/26050A', bl)).statusCode).toBe(403);
    expect((await ask(there.keys.packer, '/api/lots/26050A', { house: 'XX' })).statusCode).toBe(403);
    const before = await memberEntries();
    for (const url of ['/api/lots/26050A-1/hold', '/api/gatherings'])
      expect((await ask(there.keys.packer, url, { ...bl, method: 'POST', body: { why: 'x' } })).statusCode).toBe(403);
    expect(await memberEntries()).toEqual(before);
    expect((await ask(there.keys.packer, '/people', bl)).statusCode).toBe(403);
  });

  test('one of the packer’s people chooses a house on a page, reads it, and returns to their own', async () => {
    const cookie = await signedIn(at, 'JP', password);
    const page = await at.web.inject({ url: '/houses', headers: { cookie } });
    expect(page.body).toContain('Bracken Lane Sugarbush');
    const chosen = await posted(at, '/houses', { house: member }, { cookie });
    expect(chosen.statusCode).toBe(303);
    const both = [cookie, ...chosen.cookies.map((each) => `${each.name}=${each.value}`)].join('; ');
    const boils = await at.web.inject({ url: '/boils', headers: { cookie: both } });
    expect(boils.body).toContain('26050A');
    expect(boils.body).toContain('You are reading the records of');
    const held = await posted(at, '/lots/26050A-1/hold', { why: 'x' }, { cookie: both });
    expect(held.statusCode).toBe(403);
    const back = await posted(at, '/houses', { house: 'home' }, { cookie: both });
    expect(back.cookies.find((each) => each.name === 'boilbook-house')?.value).toBe('');
    expect((await at.web.inject({ url: '/boils', headers: { cookie } })).body).not.toContain('26050A');
  });

  test('a member signs in at its own house; the cookie of another house gives it no access', async () => {
    expect((await posted(at, '/sign-in', { initials: 'ZZ', password })).statusCode).toBe(422);
    expect((await posted(at, '/sign-in', { initials: 'ZZ', password, house: 'XX' })).statusCode).toBe(422);
    const entered = await posted(at, '/sign-in', { initials: 'ZZ', password, house: 'hn' });
    expect(entered.statusCode).toBe(303);
    const cookie = [...entered.cookies.map((each) => `${each.name}=${each.value}`), `boilbook-house=${member}`].join(
      '; ',
    );
    const boils = await at.web.inject({ url: '/boils', headers: { cookie } });
    expect(boils.body).toContain('26077A');
    expect(boils.body).not.toContain('26050A');
    expect((await posted(at, '/houses', { house: member }, { cookie })).statusCode).toBe(404);
  });

  test('a jar’s QR code leads to the jar’s house, and the page names it', async () => {
    const page = await at.web.inject({ url: `/J/${there.names.jars[0]}` });
    expect(page.statusCode).toBe(200);
    expect(page.body).toContain('Bracken Lane Sugarbush');
  });

  test('a member’s jar leads the packer into that member’s book; for everyone else it is unknown', async () => {
    const [jar, nowhere] = [there.names.jars[0]!, there.names.all.at(-1)!.nowhere];
    const readAs = async (house: string, initials: string, url: string) => {
      const cookie = await cookieOf(house, initials);
      return at.web.inject({ url, headers: { cookie } });
    };
    for (const initials of ['JP', 'WE']) {
      const cookie = await cookieOf('home', initials);
      expect((await at.web.inject({ url: `/find?q=${jar}`, headers: { cookie } })).headers.location).toContain(
        '/jars/',
      );
      expect((await at.web.inject({ url: `/J/${jar}`, headers: { cookie } })).body).toContain(`href="/jars/${jar}"`);
      const page = await at.web.inject({ url: `/jars/${jar}`, headers: { cookie } });
      expect(page.statusCode).toBe(200);
      expect(page.body).toContain('BL 26050A-1');
      expect(page.body).toContain('Bracken Lane Sugarbush');
      const sent = Object.fromEntries(
        [...page.body.matchAll(/name="(house|to)" value="([^"]*)"/g)].map((each) => [each[1]!, each[2]!]),
      );
      const chosen = await posted(at, '/houses', sent, { cookie });
      expect([chosen.statusCode, chosen.headers.location]).toEqual([303, sent['to']]);
      const both = [cookie, ...chosen.cookies.map((each) => `${each.name}=${each.value}`)].join('; ');
      const traced = await at.web.inject({ url: sent['to']!, headers: { cookie: both } });
      expect(traced.body).toContain('You are reading the records of');
      expect(traced.body).toContain('QB-G7');
      expect((await at.web.inject({ url: `/jars/${nowhere}`, headers: { cookie } })).statusCode).toBe(404);
    }
    for (const [house, initials] of [
      [asker, 'ZZ'],
      ['home', 'OE'],
    ] as const)
      for (const url of ['/jars/', '/find?q=', '/J/']) {
        const [theirs, none] = [await readAs(house, initials, url + jar), await readAs(house, initials, url + nowhere)];
        if (url !== '/J/') expect(result(theirs, jar)).toBe(result(none, nowhere));
        expect(theirs.body).not.toContain('/jars/');
        expect(theirs.headers.location ?? '').not.toContain('/jars/');
      }
    expect((await readAs(member, 'QQ', `/jars/${jar}`)).body).toContain('QB-G7');
  });

  test('choosing a house redirects only within this book, never to another site', async () => {
    const cookie = await cookieOf('home', 'WE');
    for (const to of ['//elsewhere.example/', 'https://elsewhere.example/', ''])
      expect((await posted(at, '/houses', { house: member, to }, { cookie })).headers.location).toBe('/');
  });

  test('the button that verifies the record is shown exactly to those who may use it', async () => {
    const pressed: [string, boolean, number][] = [];
    for (const [house, initials, open] of [
      ['home', 'WE', ''],
      ['home', 'JP', '; boilbook-house=bracken-lane'],
      ['home', 'OE', ''],
      [member, 'QQ', ''],
    ] as const) {
      const cookie = `${await cookieOf(house, initials)}${open}`;
      const { body } = await at.web.inject({ url: '/history', headers: { cookie } });
      const { statusCode } = await posted(at, '/history/verify', {}, { cookie });
      pressed.push([`${initials}${open}`, body.includes('action="/history/verify"'), statusCode]);
    }
    expect(pressed).toEqual([
      ['WE', true, 200],
      ['JP; boilbook-house=bracken-lane', true, 200],
      ['OE', true, 200],
      ['QQ', false, 403],
    ]);
    const files = await at.web.inject({ url: '/files', headers: { cookie: await cookieOf(member, 'QQ') } });
    expect(files.body).not.toContain('action="/files/backup"');
  });

  test('a blend is traced into the member’s book, for the packer and nobody else', async () => {
    await recordOrThrow(at.book, 'receipt', { id: 'R9', supplier: 'bl', theirLot: 'BL 26050A' });
    await recordOrThrow(at.book, 'receipt', { id: 'R8', supplier: 'Bracken Lane Sugarbush', theirLot: 'lost slip' });
    const blended = { fromLots: '26077A:2 gal;R9:1 gal;R8:1 gal', packedAt: '2026-03-22T10:00' };
    const pack = (await recordOrThrow(at.book, 'pack', blended)).id;
    const seen = (await ask(there.keys.packer, `/api/lots/${pack}/trace`)).json<{ members: object[] }>();
    expect(seen.members).toEqual([
      expect.objectContaining({ prefix: 'BL', receipt: 'R8', lot: null, boils: [] }),
      expect.objectContaining({
        house: member,
        receipt: 'R9',
        lot: '26050A',
        shown: 'BL 26050A',
        boils: ['26050A'],
        gatherings: ['QB-G7'],
      }),
    ]);
    const unseen = await ask(there.keys.maker, `/api/lots/${pack}/trace`);
    expect(unseen.json()).not.toHaveProperty('members');
    expect(unseen.body).not.toContain('QB-');
  });

  test('prefixes distinguish the houses: each is unique, and a member must have one', async () => {
    const changePrefix = (sugarhouse: string, prefix: string) =>
      record(
        at.book,
        writeContext({ sugarhouse }),
        houses,
        { name: 'Renamed', prefix },
        { of: 'house', why: 'another prefix' },
      );
    expect(await changePrefix(asker, 'bl')).toMatchObject({ problem: { faults: [{ field: 'prefix' }] } });
    expect(await changePrefix(asker, '')).toMatchObject({ problem: { faults: [{ field: 'prefix' }] } });
    expect(await changePrefix(asker, 'TOOLONG')).toMatchObject({ problem: { faults: [{ field: 'prefix' }] } });
  });

  test('actions on the whole book are for the first house only: log, backup, verify', async () => {
    expect((await ask(there.keys.member, '/api/record/log.jsonl')).statusCode).toBe(403);
    expect((await ask(there.keys.member, '/files/backup', { method: 'POST' })).statusCode).toBe(403);
    expect((await ask(there.keys.member, '/history/verify', { method: 'POST' })).statusCode).toBe(403);
    expect(await verifyBook(at.book)).toMatchObject({ ok: true });
  });
});
