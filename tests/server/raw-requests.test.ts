import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { readHead } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { type Random, randomFrom } from '../generator/random.js';
import { sqlite } from '../support/engines.js';
import { startServer, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';

/** BOILBOOK_TEST_SEED draws other requests, BOILBOOK_TEST_RUNS more of them. */
const seed = Number(process.env['BOILBOOK_TEST_SEED'] ?? 8066);
const runs = Number(process.env['BOILBOOK_TEST_RUNS'] ?? 600);

// A request's syntax is checked before any database is used, so one engine is enough.
describe('bytes sent to any route over a socket', () => {
  const engine = sqlite();
  let at: TestServer;
  let port = 0;
  let key = '';
  let codes: readonly string[] = [];
  beforeAll(async () => {
    await engine.start();
    at = await startServer({}, { engine, requestsPerMinute: 1_000_000 });
    const day = await writeDay(at);
    codes = [day.pack, '26077A', 'G041', day.jars[0] ?? '', '2026', 'gatherings', 'pack', '1', 'none'];
    const made = await addKey(at.book, 'home', { name: 'bytes', role: 'owner' }, at.clock.now);
    if ('key' in made) ({ key } = made);
    await at.web.listen({ port: 0, host: '127.0.0.1' });
    ({ port } = at.web.server.address() as { port: number });
  });
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });

  /** Writes the bytes, ends, and returns everything that comes back; disconnects after ten seconds of silence. */
  const exchange = (bytes: Buffer): Promise<string> =>
    new Promise((resolve) => {
      const socket = connect(port, '127.0.0.1');
      let answer = '';
      const done = (): void => {
        socket.destroy();
        resolve(answer);
      };
      socket.setTimeout(10_000, done).setEncoding('latin1');
      socket
        .on('data', (text: string) => (answer += text))
        .on('error', done)
        .on('close', done)
        .on('end', done);
      socket.end(bytes);
    });

  test(
    `${runs} requests of odd bytes, types, lengths and addresses: none gets a 5xx, a stack trace or no answer, and verify passes`,
    async () => {
      const random = randomFrom(seed);
      const wrong: string[] = [];
      const counts: Record<string, number> = {};
      const usual = await middleOf(() => exchange(requestTo('GET', '/healthz', [], Buffer.alloc(0))));
      const heavy = /pdf|xlsx|backup|verify|jsonld|summary|record\.json/;
      for (let n = 0; n < runs; n++) {
        const route = random.of(at.routes.filter(({ path }) => !path.includes('*')));
        const path = route.path.replace(/:\w+/g, () => encoded(random.oneIn(4) ? oddText(random) : random.of(codes)));
        const bytes = oddRequest(random, route.method === 'HEAD' ? 'GET' : route.method, path, key);
        let answer = '';
        const measured = () => milliseconds(async () => (answer = await exchange(bytes)));
        let ms = await measured();
        // As a ratio to the lightest request of the same run, the best of three: the machine's load affects both.
        const most = Math.max(500, usual * 200);
        for (let again = 0; again < 2 && ms > most && !heavy.test(path); again++) ms = Math.min(ms, await measured());
        const status = /^HTTP\/1\.1 (\d{3})/.exec(answer)?.[1] ?? 'nothing';
        counts[status] = (counts[status] ?? 0) + 1;
        const description = `${n}: ${JSON.stringify(bytes.toString('latin1').slice(0, 300))} ${status}`;
        if (/^5/.test(status) && status !== '503')
          wrong.push(`${description} ${at.log.findLast((line) => line.includes('"fault"')) ?? ''}`);
        if (/\n\s+at .+:\d+:\d+|node_modules|SQLITE_/.test(answer)) wrong.push(`${description}: a stack in the answer`);
        if (!heavy.test(path) && ms > most) wrong.push(`${description}: ${Math.round(ms)} ms`);
      }
      expect(wrong).toEqual([]);
      expect(Object.keys(counts).filter((status) => /^[24]/.test(status)).length).toBeGreaterThan(4);
      const verified = await verifyBook(at.book);
      expect(verified).toMatchObject({ ok: true, entries: (await readHead(at.book.read)).entries });
    },
    60_000 + runs * 400,
  );
});

async function middleOf(work: () => Promise<unknown>): Promise<number> {
  const times: number[] = [];
  for (let n = 0; n < 9; n++) times.push(await milliseconds(work));
  return times.sort((a, b) => a - b)[4] ?? 0;
}

async function milliseconds(work: () => Promise<unknown>): Promise<number> {
  const from = performance.now();
  await work();
  return performance.now() - from;
}

function requestTo(method: string, url: string, headers: readonly string[], body: Buffer): Buffer {
  const head = [`${method} ${url} HTTP/1.1`, 'Host: 127.0.0.1', 'Connection: close', ...headers];
  return Buffer.concat([Buffer.from(`${head.join('\r\n')}\r\n\r\n`, 'latin1'), body]);
}

/** A request with up to three faults. */
function oddRequest(random: Random, method: string, path: string, key: string): Buffer {
  const body = oddBody(random);
  const type = random.of([
    'application/json',
    'application/x-www-form-urlencoded',
    'text/csv',
    'multipart/form-data; boundary=b',
    'text/plain',
    'application/json; charset=utf-7',
    ';;/',
    '',
    'x'.repeat(3000),
  ]);
  const length = random.oneIn(5) ? random.of([0, body.length + 5, 1, -1, 99_999_999_999]) : body.length;
  const headers = [
    ...(random.oneIn(5) ? [] : [`Authorization: Bearer ${key}`]),
    ...(method === 'GET' && random.oneIn(2)
      ? []
      : [`Content-Type: ${type}`, random.oneIn(8) ? 'Transfer-Encoding: chunked' : `Content-Length: ${length}`]),
    ...(random.oneIn(6) ? [`Cookie: boilbook=${oddText(random)}; boilbook=${oddText(random)}`] : []),
    ...(random.oneIn(6) ? [`Idempotency-Key: ${oddText(random)}`] : []),
    ...(random.oneIn(6) ? [`If-Match: ${oddText(random)}`, `Range: bytes=${random.whole(-5, 5)}-`] : []),
    ...(random.oneIn(10)
      ? Array.from({ length: random.whole(1, 60) }, (_, n) => `X-Odd-${n}: ${oddText(random)}`)
      : []),
  ].map((line) => line.replace(/[\r\n\0]/g, ' '));
  const query = random.oneIn(3)
    ? `?${Array.from({ length: random.whole(1, 40) }, () => `${random.of(['q', 'from', 'most', 'next', 'paper', 'stock', '__proto__', 'a[b]', 'year'])}=${encoded(oddText(random))}`).join('&')}`
    : '';
  const url = random.oneIn(8)
    ? `${path}${random.of(['/..', '/%2e%2e/%2e%2e/etc/passwd', '//', '/%00', '/%ff', ';x', '\\..', `/${'a'.repeat(9000)}`])}`
    : path;
  const request = requestTo(
    random.oneIn(15) ? random.of(['PUT', 'DELETE', 'OPTIONS', 'PATCH', 'TRACE', 'FOO']) : method,
    url.replace(/[\s\0]/g, '') + query,
    headers,
    body,
  );
  if (!random.oneIn(12)) return request;
  // One byte of it is changed.
  const at = random.whole(0, request.length - 1);
  return Buffer.concat([request.subarray(0, at), Buffer.from([random.whole(0, 255)]), request.subarray(at + 1)]);
}

function oddBody(random: Random): Buffer {
  const some = random.whole(0, 8);
  if (some === 0) return Buffer.alloc(0);
  if (some === 1) return Buffer.from(Array.from({ length: random.whole(1, 400) }, () => random.whole(0, 255)));
  if (some === 2) return Buffer.from('['.repeat(random.whole(1, 20_000)));
  if (some === 3) return Buffer.from(`{"${oddText(random)}":${'{"a":'.repeat(random.whole(1, 2000))}1`);
  if (some === 4) return Buffer.alloc(random.whole(1, 70_000), random.of([' ', ',', 'a=', '%', '\n', '"']));
  if (some === 5)
    return Buffer.from(`why=${encoded(oddText(random))}&_once=${encoded(oddText(random))}&a[__proto__]=1`);
  if (some === 6)
    return Buffer.from(
      JSON.stringify({
        id: oddText(random),
        why: oddText(random),
        lot: oddText(random),
        entry: oddText(random),
        __proto__: { role: 'owner' },
      }),
    );
  if (some === 7)
    return Buffer.from(
      `--b\r\nContent-Disposition: form-data; name="file"; filename="${oddText(random)}"\r\n\r\n${oddText(random)}\r\n--b`,
    );
  return Buffer.from(`id,gathered_at,source,volume\n${oddText(random)},2026-03-01T16:00,x,1 gal\n`);
}

const oddText = (random: Random): string =>
  random.of([
    '',
    ' ',
    '\0',
    '\ud800',
    '../..',
    '%00',
    "'; DROP TABLE entry; --",
    '__proto__',
    'constructor',
    '\u202e',
    '😀'.repeat(20),
    '9'.repeat(400),
    ' '.repeat(3000),
    '1e999',
    '-1',
    '٣',
    '\uffff',
    'é°',
    '26077A-1',
    '{{7*7}}',
    '<script>',
    '=1+2',
  ]);

/** Half a surrogate pair can't be encoded: it is sent as a question mark. */
const encoded = (text: string): string => encodeURIComponent(text.replace(/\p{Cs}/gu, '?'));
