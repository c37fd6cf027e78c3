import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import { addKey, addPerson } from '#libs/actions/accounts/accounts.js';
import { record } from '#libs/actions/record/record.js';
import { writeContext, done } from '../support/sugarhouse.js';
import { engines } from '../support/engines.js';
import { writeBigBook } from '../generator/big-book.js';
import { startServer, type TestServer, signedIn } from '../support/server.js';

/** Sixty boils, each with its sap, three packs and two dispatches: every list is longer than what is shown at once. */
const boils = 60;

describe.each(engines())('Long lists on $name', (engine) => {
  let at: TestServer;
  let cookie = '';
  let key = '';
  beforeAll(async () => {
    await engine.start();
    at = await startServer({}, { engine });
    at.clock.now = new Date('2030-01-01T12:00:00Z');
    await writeBigBook(at.book, boils);
    const password = 'steam over the roof of WE';
    await addPerson(at.book, 'home', { initials: 'WE', name: 'WE', role: 'maker', password });
    cookie = await signedIn(at, 'WE', password);
    key = done(await addKey(at.book, 'home', { name: 'lists', role: 'maker' }, at.clock.now)).key;
  }, 120_000);
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });

  interface ApiPage {
    readonly items: readonly { readonly id: string; readonly at: string; readonly status?: string }[];
    readonly all: number;
    readonly next: string | null;
  }
  async function pageOf(url: string): Promise<ApiPage> {
    const answer = await at.web.inject({ url, headers: { authorization: `Bearer ${key}` } });
    expect([url, answer.statusCode]).toEqual([url, 200]);
    return answer.json();
  }
  async function opened(url: string): Promise<string> {
    const answer = await at.web.inject({ url: url.replace(/#.*/, ''), headers: { cookie } });
    expect([url, answer.statusCode]).toEqual([url, 200]);
    return answer.body;
  }
  async function readOn(first: string, between: () => Promise<unknown> = async () => {}) {
    const items: ApiPage['items'][number][] = [];
    for (let url: string | null = first; url !== null;) {
      const { items: some, next } = await pageOf(url);
      items.push(...some);
      url = next;
      await between();
    }
    return items;
  }

  test.each([
    ['gatherings', boils],
    ['boils', boils],
    ['packs', boils * 3],
    ['dispatches', boils * 2],
  ])('/api/%s returns every record once, page by page, oldest first', async (plural, count) => {
    const items = await readOn(`/api/${plural}?most=25`);
    expect((await pageOf(`/api/${plural}`)).all).toBe(count);
    expect(new Set(items.map((each) => each.id)).size).toBe(count);
    expect(items).toHaveLength(count);
    const times = items.map((each) => Date.parse(each.at));
    expect(times).toEqual([...times].sort((a, b) => a - b));
    if (plural === 'packs') expect(items.every((each) => each.status === 'open')).toBe(true);
  });

  test('the pages of a year contain only that year, and an offset still works', async () => {
    expect(await readOn('/api/packs?year=2006&most=70')).toHaveLength(boils * 3);
    expect(await pageOf('/api/packs?year=2007')).toEqual({ items: [], all: 0, next: null });
    const [, second] = (await pageOf('/api/boils')).items;
    expect((await pageOf('/api/boils?from=1&most=1')).items).toEqual([second]);
  });

  test('writes while the pages are read make no record appear twice or be missed', async () => {
    const before = new Set((await readOn('/api/gatherings')).map((each) => each.id));
    let written = 0;
    const items = await readOn('/api/gatherings?most=20', async () => {
      const result = {
        id: `OLD${++written}`,
        gatheredAt: `2005-03-0${written}T10:00`,
        source: 'far bush',
        volume: '9 gal',
      };
      done(await record(at.book, { ...writeContext(), now: at.clock.now, clockIsRight: true }, gatherings, result));
    });
    expect(written).toBe(3);
    const read = items.map((each) => each.id);
    expect(read).toEqual([...new Set(read)]);
    expect([...before].filter((id) => !read.includes(id))).toEqual([]);
  });

  test('a position that no page returned is refused as invalid', async () => {
    const answer = await at.web.inject({ url: '/api/packs?after=x', headers: { authorization: `Bearer ${key}` } });
    expect(answer.statusCode).toBe(422);
    expect(answer.json()).toMatchObject({ faults: [{ field: 'after' }] });
  });

  test.each([
    ['/packs', /href="\/lots\/([^"]+)"><span class="code">/g, boils * 3],
    ['/boils', /href="\/lots\/([^"]+)"><span class="code">/g, boils],
    ['/sap', /href="\/lots\/([^"]+)"><span class="code">/g, boils + 3],
    ['/dispatches', /href="\/records\/dispatch\/([^"]+)"/g, boils * 2],
  ])('%s shows a hundred at a time, and its links lead to every one once', async (first, link, count) => {
    const seen: string[] = [];
    for (let url: string | undefined = first; url !== undefined;) {
      const body = await opened(url);
      expect(body.length).toBeLessThan(200_000);
      // The desktop table beside the list has the same rows.
      const here = [...new Set([...body.matchAll(link)].map((each) => each[1]!))];
      expect(here.length).toBeLessThanOrEqual(100);
      seen.push(...here);
      url = /href="([^"]+)">the next hundred →/.exec(body)?.[1];
    }
    expect(new Set(seen).size).toBe(count);
    expect(seen).toHaveLength(count);
  });

  test.each(['/packs', '/boils'])(
    '%s is whole for each reader, in their own page, plain and compressed',
    async (url) => {
      const password = 'a guest of the sugar moon';
      await addPerson(at.book, 'home', { initials: 'HE', name: 'HE', role: 'guest', password });
      const rows: string[] = [];
      for (const [initials, session] of [
        ['WE', cookie] as const,
        ['HE', await signedIn(at, 'HE', password)] as const,
      ]) {
        const headers = { cookie: session };
        const plain = await at.web.inject({ url, headers });
        const packed = await at.web.inject({ url, headers: { ...headers, 'accept-encoding': 'gzip' } });
        expect([plain.statusCode, plain.headers['content-type']]).toEqual([200, 'text/html; charset=utf-8']);
        expect(plain.headers['content-length']).toBe(String(plain.rawPayload.length));
        expect(packed.headers['content-encoding']).toBe('gzip');
        expect(gunzipSync(packed.rawPayload).equals(plain.rawPayload)).toBe(true);
        const text = new TextDecoder('utf-8', { fatal: true }).decode(plain.rawPayload);
        expect(text).toMatch(/^<!doctype html><html lang="en">[^]*<div class="listed">[^]*<\/html>$/);
        expect(text).not.toContain('<!--');
        expect(text).toContain(`>${initials}, `);
        expect(text.includes('class="main-action"')).toBe(initials === 'WE');
        rows.push(text.slice(text.indexOf('<section class="desktop"'), text.indexOf('<nav aria-label="More pages"')));
      }
      expect(rows[0]!.split('<a class="row two"')).toHaveLength(
        Math.min(100, url === '/packs' ? boils * 3 : boils) + 1,
      );
      expect(rows[1]).toBe(rows[0]);
    },
  );
});
