import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import type { BodyKind } from '../../apps/server/http/access.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { writeDay } from '../support/season-server.js';
import { startServer, type TestServer } from '../support/server.js';

// A body is checked before any database is used, so one engine is enough.
describe('request bodies', () => {
  let at: TestServer;
  let key = '';
  let codes: Record<string, readonly string[]> = {};
  beforeAll(async () => {
    at = await startServer();
    const day = await writeDay(at);
    const made = await addKey(at.book, 'home', { name: 'sweep', role: 'owner' }, at.clock.now);
    if ('key' in made) ({ key } = made);
    codes = {
      code: [day.pack, '26077A', 'G041', day.jars[0] ?? '', 'none'],
      id: ['G041', '1', 'none'],
      kind: ['gatherings', 'gathering', 'pack', 'none'],
      plural: ['checks', 'gatherings', 'none'],
      what: ['line', 'end', 'none'],
      deed: ['hold', 'release', 'recall', 'none'],
      step: ['jars', 'density', 'none'],
      question: ['density', 'none'],
      year: ['2026', 'none'],
      token: ['none'],
    };
  });
  afterAll(async () => {
    await at.close();
  });

  /** Every address of a route with real codes in it, so that each handler is reached. */
  const addresses = (path: string): string[] =>
    [...path.matchAll(/:(\w+)/g)].reduce<string[]>(
      (urls, [mark, name = '']) =>
        urls.flatMap((url) => (codes[name] ?? ['none']).map((code) => url.replace(mark, code))),
      [path],
    );

  const post = (url: string, payload: string | undefined, type: string | undefined) =>
    at.web.inject({
      method: 'POST',
      url,
      headers: { authorization: `Bearer ${key}`, ...(type === undefined ? {} : { 'content-type': type }) },
      ...(payload === undefined ? {} : { payload }),
    });

  const types = {
    form: 'application/x-www-form-urlencoded',
    json: 'application/json',
    csv: 'text/csv',
    file: 'multipart/form-data; boundary=b',
    bytes: 'application/octet-stream',
  } as const;
  const takenBy = (kind: BodyKind): string[] => (kind === 'photo-form' ? [types.form, types.file] : [types[kind]]);
  const multipart = '--b\r\nContent-Disposition: form-data; name="why"\r\n\r\nx\r\n--b--\r\n';
  const bodies: readonly (readonly [string, string | undefined, string | undefined])[] = [
    ['no body', undefined, undefined],
    ...Object.values(types).flatMap((type) => [['empty', '', type] as const, ['null', 'null', type] as const]),
    ['a list', '[]', types.json],
    ['an object', '{}', types.json],
    ['a number', '7', types.json],
    ['text', '"x"', types.json],
    ['half an object', '{"', types.json],
    ['multipart', multipart, types.file],
    ['a broken multipart', '--b\r\nContent-Disposition: form-data', types.file],
    ['a multipart without its mark', multipart, 'multipart/form-data'],
    ['nothing but marks', '&=&=&', types.form],
    [
      'names twice',
      'initials=a&initials=b&said=a&said=b&code=a&code=b&lot=a&lot=b&from=a&from=b&word=a&word=b',
      types.form,
    ],
    ['plain text', 'x', 'text/plain'],
    ['a kind that is none', 'x', ';;/'],
    ['no kind', 'x', undefined],
  ];

  const unparsed = new Set([
    'half an object',
    'a broken multipart',
    'a multipart without its mark',
    'a kind that is none',
  ]);

  test('any body posted to any address is accepted or refused with a sentence, and never causes a server error', async () => {
    const wrong: string[] = [];
    let request = 0;
    for (const { method, path, access, body } of at.routes) {
      if (method !== 'POST') continue;
      for (const [n, url] of addresses(path).entries())
        for (const [what, payload, type] of bodies) {
          // All addresses of a route refuse a kind of body that it doesn't read in the same way.
          if (n > 0 && type !== undefined && !takenBy(body.kind).includes(type)) continue;
          // The same is true of a body that cannot be parsed: it never reaches a handler, which the address chooses.
          if (n > 0 && unparsed.has(what)) continue;
          const before = at.log.length;
          const answer = await post(url, payload, type);
          request++;
          const sentence = path.startsWith('/api/')
            ? ((answer.statusCode >= 400 && answer.json<{ detail: string }>().detail) || 'it was taken').length > 5
            : answer.statusCode < 400 || answer.body.includes('</html>') || answer.body.includes('<h1');
          const logged = at.log.slice(before).some((line) => line.includes('"fault"'));
          if (answer.statusCode >= 500 || !sentence || logged)
            wrong.push(
              `${url} (${access}) ${what} ${type ?? ''}: ${answer.statusCode} ${at.log.at(-2)?.slice(0, 300)}`,
            );
        }
    }
    expect(wrong).toEqual([]);
    expect(request).toBeGreaterThan(2000);
    expect(await verifyBook(at.book)).toMatchObject({ ok: true });
  }, 240_000);

  test('a body of the wrong kind or beyond the limit is refused from its headers alone', async () => {
    const wrong: string[] = [];
    for (const { method, path, body } of at.routes) {
      if (method !== 'POST') continue;
      const url = path.replace(/:\w+/g, 'none');
      for (const [kind, type] of Object.entries(types))
        if (!takenBy(body.kind).includes(type)) {
          const { statusCode } = await post(url, 'x', type);
          if (statusCode !== 415) wrong.push(`${url} ${kind}: ${statusCode}`);
        }
      const announced = await at.web.inject({
        method: 'POST',
        url,
        headers: {
          authorization: `Bearer ${key}`,
          'content-type': takenBy(body.kind).at(-1),
          'content-length': String(body.limitBytes + 1),
        },
        payload: 'x',
      });
      if (announced.statusCode !== 413) wrong.push(`${url} announced: ${announced.statusCode}`);
    }
    expect(wrong).toEqual([]);
  }, 60_000);

  test('files and photos are accepted by six addresses and the forms with a photo, and never without a key or session', () => {
    const large = at.routes.filter(({ method, body }) => method === 'POST' && body.limitBytes > 1024 * 1024);
    const [withPhoto, files] = [true, false].map((form) =>
      large
        .filter(({ body }) => (body.kind === 'photo-form') === form)
        .map((row) => [row.path, row.access, row.body.kind]),
    );
    expect(withPhoto?.map(([path, access]) => `${path} ${access}`).sort()).toEqual([
      '/boils/:code/log/:what helper',
      '/boils/finished maker',
      '/dispatches/new helper',
      '/lots/:code/act maker',
      '/packs/:code/:step helper',
      '/packs/:code/fill helper',
      '/packs/finished maker',
      '/returns/:code maker',
      '/sap/gather helper',
      '/sap/receive maker',
      '/supporting-records/:plural/new helper',
    ]);
    expect(files).toEqual([
      ['/api/imports/:kind', 'maker', 'csv'],
      ['/api/photos/:kind/:id', 'helper', 'bytes'],
      ['/house/logo', 'owner', 'file'],
      ['/house/story-photo', 'owner', 'file'],
      ['/files/preview', 'maker', 'file'],
      ['/photos/of/:kind/:id', 'helper', 'file'],
    ]);
    const open = at.routes.filter(({ method, access }) => method === 'POST' && access === 'anybody');
    expect(open.map(({ body }) => body.limitBytes)).toEqual(open.map(() => 64 * 1024));
  });

  test('two megabytes of CSV sent to a calculator without a key use no processor time', async () => {
    const payload = Buffer.alloc(2_000_000, 'x,');
    const began = process.cpuUsage();
    const answer = await at.web.inject({
      method: 'POST',
      url: '/api/reckon/density',
      headers: { 'content-type': 'text/csv' },
      payload,
    });
    expect([answer.statusCode, answer.json<{ detail: string }>().detail]).toEqual([
      415,
      'This address accepts only application/json.',
    ]);
    // Time of this process alone, whatever else the machine does.
    expect(process.cpuUsage(began).user / 1000).toBeLessThan(200);
  });
});
