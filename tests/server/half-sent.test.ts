import { connect, type Socket } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, afterEach, beforeAll, describe, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { startServer, type TestServer } from '../support/server.js';

const mebibyte = 1024 * 1024;

describe('an unfinished request body', () => {
  let at: TestServer;
  let port = 0;
  const keys: Record<string, string> = {};
  const sockets: Socket[] = [];
  beforeAll(async () => {
    at = await startServer();
    for (const name of ['pad', 'laptop', 'scale', 'office']) {
      const made = await addKey(at.book, 'home', { name, role: 'maker' }, at.clock.now);
      if ('key' in made) keys[name] = made.key;
    }
    await at.web.listen({ port: 0, host: '127.0.0.1' });
    ({ port } = at.web.server.address() as { port: number });
  });
  afterEach(async () => {
    for (const socket of sockets.splice(0)) socket.destroy();
    await pause(300);
  });
  afterAll(async () => {
    await at.close();
  });

  /** Sends the head and half a megabyte of the body; returns the response so far. */
  function begin(path: string, headers: Record<string, string>, bytes = mebibyte / 2): () => string {
    const socket = connect(port, '127.0.0.1');
    socket.on('error', () => undefined);
    sockets.push(socket);
    let answer = '';
    socket.setEncoding('utf8').on('data', (text: string) => (answer += text));
    const head = Object.entries({ Host: '127.0.0.1', ...headers }).map(([name, value]) => `${name}: ${value}\r\n`);
    socket.write(`POST ${path} HTTP/1.1\r\n${head.join('')}\r\n`);
    socket.write('x'.repeat(bytes));
    return () => /^HTTP\/1\.1 (\d{3})/.exec(answer)?.[1] ?? 'waits';
  }
  const file = (name: string) => ({
    Authorization: `Bearer ${keys[name]}`,
    'Content-Type': 'text/csv',
    'Content-Length': String(32 * mebibyte),
  });

  test('is limited per sender and in total; others can still write, and it stops counting once it is gone', async () => {
    const before = process.memoryUsage().rss;
    const begun = Array.from({ length: 30 }, (_, n) =>
      begin('/api/imports/gatherings', file(['pad', 'laptop', 'scale', 'office'][n % 4] ?? '')),
    );
    await pause(1500);
    const statuses = begun.map((answer) => answer());
    // One from each of three senders is in progress; the fourth is beyond the total that is accepted.
    expect(statuses.filter((status) => status === 'waits')).toHaveLength(3);
    expect(statuses.filter((status) => status === '503')).toHaveLength(27);
    expect(process.memoryUsage().rss - before).toBeLessThan(200 * mebibyte);

    const write = () =>
      fetch(`http://127.0.0.1:${port}/sign-in`, {
        method: 'POST',
        headers: { 'content-type': 'application/x-www-form-urlencoded', origin: `http://127.0.0.1:${port}` },
        body: 'initials=WE&password=none',
        redirect: 'manual',
      });
    expect((await write()).status).toBe(422);
    for (const socket of sockets.splice(0)) socket.destroy();
    await pause(500);
    const again = begin('/api/imports/gatherings', file('pad'));
    await pause(500);
    expect(again()).toBe('waits');
  }, 30_000);

  test('from a stranger doesn’t use up the house’s share', async () => {
    const form = { 'Content-Type': 'application/json', 'Content-Length': String(64 * 1024) };
    const begun = Array.from({ length: 20 }, () => begin('/api/reckon/density', form, 1024));
    await pause(1000);
    const statuses = begun.map((answer) => answer());
    expect(statuses.filter((status) => status === 'waits')).toHaveLength(8);
    expect(statuses.filter((status) => status === '503')).toHaveLength(12);
    const saved = await at.web.inject({
      method: 'POST',
      url: '/api/gatherings',
      headers: { authorization: `Bearer ${keys['office']}`, 'content-type': 'application/json' },
      payload: '{}',
    });
    expect(saved.statusCode).toBe(422);
  }, 30_000);

  test('without a declared length is cut off at the limit of its address', async () => {
    const chunked = begin(
      '/api/reckon/density',
      { 'Content-Type': 'application/json', 'Transfer-Encoding': 'chunked' },
      0,
    );
    const socket = sockets.at(-1);
    for (let n = 0; n < 5; n++) socket?.write(`8000\r\n${' '.repeat(0x8000)}\r\n`);
    await pause(500);
    expect(chunked()).toBe('413');
  }, 30_000);

  test.each([
    ['GARBAGE\r\n\r\n', 400],
    ['GET /api/packs HTTP/9.9\r\nHost: 127.0.0.1\r\n\r\n', 400],
    ['POST /api/packs HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: some\r\n\r\n', 400],
    [`GET /api/packs HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Long: ${'y'.repeat(20_000)}\r\n\r\n`, 431],
  ])('what is no request of HTTP is answered by problem details too: %j', async (raw, status) => {
    const socket = connect(port, '127.0.0.1', () => socket.write(raw));
    sockets.push(socket);
    let answer = '';
    for await (const part of socket.setEncoding('utf8')) answer += part as string;
    const [head = '', body = ''] = answer.split('\r\n\r\n');
    expect(head).toMatch(new RegExp(`^HTTP/1\\.1 ${status} .*Content-Type: application/problem\\+json`, 's'));
    expect(JSON.parse(body)).toMatchObject({ status, title: expect.any(String), detail: expect.any(String) });
  });
});
