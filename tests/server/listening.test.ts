import { spawn } from 'node:child_process';
import { existsSync, writeFileSync } from 'node:fs';
import { request } from 'node:https';
import { join } from 'node:path';
import { afterAll, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { openBook } from '#libs/store/book.js';
import { recordsOf } from '#libs/store/queries/lots.js';
import { packageRoot } from '#libs/package-root.js';
import { readSettings } from '../../apps/server/settings.js';
import { makeCertificate } from '../support/certificate.js';
import { temporaryFolder, children, endAll, started } from '../support/server-process.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

afterAll(endAll);

test('stopping the server while twenty phones write loses nothing that was acknowledged', async () => {
  const folder = temporaryFolder();
  const file = join(folder, 'book.sqlite');
  const before = await openBook({ file });
  const made = await addKey(before, 'home', { name: 'phones', role: 'maker' }, new Date());
  await before.close();
  if ('problem' in made) throw new Error('no key');

  const server = await started(folder);
  const acknowledged: string[] = [];
  let stopped = false;
  const phone = async (n: number): Promise<void> => {
    for (let turn = 0; !stopped && turn < 200; turn++) {
      const id = `G${n}.${turn}`;
      const answer = await fetch(`${server.address}/api/gatherings`, {
        method: 'POST',
        headers: { authorization: `Bearer ${made.key}`, 'content-type': 'application/json' },
        body: JSON.stringify({ id, gatheredAt: '2026-03-17T16:00', source: 'upper lines', volume: '12 gal', by: 'JP' }),
      }).catch(() => undefined);
      if (answer?.status !== 201) return;
      acknowledged.push(id);
      if (acknowledged.length === 60) {
        stopped = true;
        server.child.kill('SIGTERM');
      }
    }
  };
  await Promise.all(Array.from({ length: 20 }, (_, n) => phone(n)));
  expect(await server.ended).toBe(0);
  expect(acknowledged.length).toBeGreaterThanOrEqual(60);
  expect(existsSync(`${file}-wal`)).toBe(false);

  const after = await openBook({ file });
  const saved = new Set((await recordsOf(sugarhouseReader(after.read, 'home'), 'gathering')).map((each) => each.id));
  await after.close();
  expect(acknowledged.filter((id) => !saved.has(id))).toEqual([]);
});

test('a newcomer sets the book up over HTTP with the code that the terminal shows', async () => {
  const server = await started(temporaryFolder());
  expect((await fetch(`${server.address}/`, { redirect: 'manual' })).headers.get('location')).toBe('/sign-in');
  const word = /valid for one hour: (\S+)/.exec(server.output())?.[1] ?? '';
  const done = await fetch(`${server.address}/set-up`, {
    method: 'POST',
    redirect: 'manual',
    headers: { origin: server.address },
    body: new URLSearchParams({
      word,
      name: 'Tamarack Hollow Sugarhouse',
      place: 'Vermont',
      hydrometerMadeFor: '60-F',
      initials: 'WE',
      password: 'steam over the long pan',
    }),
  });
  expect([done.status, done.headers.get('location')]).toEqual([303, '/']);
  const cookie = done.headers
    .getSetCookie()
    .map((each) => each.split(';')[0])
    .join('; ');
  expect((await fetch(`${server.address}/api/record`, { headers: { cookie } })).status).toBe(200);
  expect(server.output()).not.toContain('steam over');

  const second = spawn(process.execPath, [join(packageRoot, 'dist/apps/server/main.js')], {
    env: { PATH: process.env['PATH'], BOILBOOK_DATA: temporaryFolder(), BOILBOOK_PORT: new URL(server.address).port },
  });
  children.push(second);
  let complaint = '';
  second.stderr.on('data', (bytes: Buffer) => (complaint += bytes.toString()));
  expect(await new Promise((resolve) => second.once('exit', resolve))).toBe(1);
  expect(complaint).toContain('is in use: is Boilbook already running?');
  server.child.kill('SIGINT');
  expect(await server.ended).toBe(0);
});

test('with a certificate the book is served over TLS, and its cookie is sent only there', async () => {
  const folder = temporaryFolder();
  const { cert, key } = makeCertificate();
  writeFileSync(join(folder, 'cert.pem'), cert);
  writeFileSync(join(folder, 'key.pem'), key);
  const server = await started(folder, {
    BOILBOOK_TLS_CERT: join(folder, 'cert.pem'),
    BOILBOOK_TLS_KEY: join(folder, 'key.pem'),
  });
  const word = /valid for one hour: (\S+)/.exec(server.output())?.[1] ?? '';
  const form = new URLSearchParams({
    word,
    name: 'Tamarack Hollow Sugarhouse',
    initials: 'WE',
    password: 'steam over the long pan',
  }).toString();
  const answer = await new Promise<import('node:http').IncomingMessage>((resolve, reject) => {
    const headers = {
      origin: server.address,
      'content-type': 'application/x-www-form-urlencoded',
      'content-length': form.length,
    };
    request(`${server.address}/set-up`, { ca: cert, method: 'POST', headers }, resolve).once('error', reject).end(form);
  });
  expect(answer.statusCode).toBe(303);
  expect(answer.headers['strict-transport-security']).toContain('max-age=');
  expect(answer.headers['set-cookie']?.[0]).toMatch(/^__Host-boilbook=.*; Path=\/.*HttpOnly; Secure; SameSite=Lax/);
  server.child.kill('SIGTERM');
  expect(await server.ended).toBe(0);
});

test('each invalid setting is reported in a sentence, all at once', () => {
  const wrong = readSettings(
    {
      BOILBOOK_PORT: '80666',
      BOILBOOK_TIME_ZONE: 'Mars/Sea',
      BOILBOOK_PUBLIC_URL: 'ftp://jars.example',
      BOILBOOK_DATABASE_URL: 'mysql://we:secret@db/book',
      BOILBOOK_HOSTS: 'sugar house?',
      BOILBOOK_TRUST_PROXY: 'anybody',
      BOILBOOK_TLS_KEY: '/nowhere.pem',
      BOILBOOK_BACKUPS_KEPT: 'many',
    },
    ['--wan'],
  );
  if (!('faults' in wrong)) throw new Error('taken');
  const named = wrong.faults.map((fault) => fault.split(':')[0]);
  expect(named.sort()).toEqual(
    [
      '--wan',
      'BOILBOOK_BACKUPS_KEPT',
      'BOILBOOK_DATABASE_URL',
      'BOILBOOK_HOSTS',
      'BOILBOOK_PORT',
      'BOILBOOK_PUBLIC_URL',
      'BOILBOOK_TIME_ZONE',
      'BOILBOOK_TLS_CERT',
      'BOILBOOK_TRUST_PROXY',
    ].sort(),
  );
  expect(wrong.faults.join()).not.toContain('secret');
  const right = readSettings({ BOILBOOK_DATA: '/book' }, ['--lan']);
  expect(right).toMatchObject({
    settings: { host: '0.0.0.0', port: 8066, location: { file: '/book/book.sqlite' }, backupCount: 14 },
  });
});
