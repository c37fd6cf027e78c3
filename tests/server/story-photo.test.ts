import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import sharp from 'sharp';
import { houses } from '#libs/actions/kinds/house.js';
import { loadPublicStory, publicStoryPhoto } from '#libs/actions/labels/jar-story.js';
import { loadLabelContent } from '#libs/actions/labels/label-content.js';
import { placeRules } from '#libs/actions/places/places.js';
import { record } from '#libs/actions/record/record.js';
import { publishJarPages } from '#libs/labels/content/publish-jar-pages.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import { house, owner, setUp } from '../support/newcomer.js';
import { originOn, signedIn, startServer, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';
import { done } from '../support/sugarhouse.js';
import { whereBooksAre } from '../support/where-books-are.mjs';

let at: TestServer;
let cookie: string;
let day: Awaited<ReturnType<typeof writeDay>>;
let photo: Buffer;
const boundary = 'one-photo-of-the-story';

beforeAll(async () => {
  at = await startServer();
  await setUp(at);
  cookie = await signedIn(at, owner.initials, owner.password);
  day = await writeDay(at);
  photo = await sharp({ create: { width: 1800, height: 1200, channels: 3, background: '#a62' } })
    .withExif({ IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '44/1 15/1 0/1' } })
    .jpeg()
    .toBuffer();
});
afterAll(() => at.close());

const jar = (): string => day.jars[0] ?? '';
const anybody = (url: string) => at.web.inject({ url });
async function sent(shows: string, file: Buffer) {
  const texts = { ...(await originOn(at, cookie)), shows };
  const lines = Object.entries(texts).map(
    ([name, text]) => `--${boundary}\r\nContent-Disposition: form-data; name="${name}"\r\n\r\n${text}\r\n`,
  );
  const head = `--${boundary}\r\nContent-Disposition: form-data; name="file"; filename="a.jpg"\r\nContent-Type: image/jpeg\r\n\r\n`;
  return at.web.inject({
    method: 'POST',
    url: '/house/story-photo',
    headers: { cookie, origin: 'http://localhost', 'content-type': `multipart/form-data; boundary=${boundary}` },
    payload: Buffer.concat([Buffer.from(lines.join('') + head), file, Buffer.from(`\r\n--${boundary}--\r\n`)]),
  });
}
const tellStory = async (jarStory: 'yes' | 'no') => {
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: at.clock.now, zone: 'America/New_York' };
  const details = { ...house, postcode: '05000', phone: '802 555 0100', jarStory };
  done(await record(at.book, context, houses, details, { of: 'house', why: 'the story of a jar' }));
};

test('a file that is no photo, and a photo without a description, are refused in a sentence', async () => {
  const none = await sent('steam over the long pan', Buffer.from('no picture at all'));
  expect([none.statusCode, none.body]).toEqual([422, expect.stringContaining('a photo as JPEG, PNG or WebP')]);
  const silent = await sent('', photo);
  expect([silent.statusCode, silent.body]).toEqual([422, expect.stringContaining('what the photo shows')]);
  expect((await anybody(`/j/${jar()}/photo.jpg`)).statusCode).toBe(404);
});

test('the photo is on jars’ public pages once the maker shows the story, without location or camera data', async () => {
  expect((await sent('steam over the long pan', photo)).headers['location']).toBe('/house/story-photo');
  expect((await anybody(`/J/${jar()}`)).body).not.toContain('<img');
  expect((await anybody(`/j/${jar()}/photo.jpg`)).statusCode).toBe(404);
  await tellStory('yes');
  const page = await anybody(`/J/${jar()}`);
  expect(page.body).toContain(
    `<img src="/j/${jar()}/photo.jpg" alt="steam over the long pan" width="900" height="600">`,
  );
  expect(page.headers['content-security-policy']).toContain("img-src 'self'");
  const image = await anybody(`/j/${jar()}/photo.jpg`);
  const seen = await sharp(image.rawPayload).metadata();
  expect([image.headers['content-type'], seen.width, seen.height, seen.exif]).toEqual([
    'image/jpeg',
    900,
    600,
    undefined,
  ]);
  expect((await anybody('/j/NONE-NONE/photo.jpg')).statusCode).toBe(404);
});

test('pages published elsewhere share one copy of it and link to it', async () => {
  const reader = { sql: at.book.read, sugarhouse: 'home' };
  const lot = await findLot(reader, day.pack);
  const pack = (await findRecord(reader, 'pack', day.pack))?.body;
  const content = lot && (await loadLabelContent(reader, lot, placeRules('Vermont') as PlaceRules));
  const house = (await findRecord(reader, 'house', 'house'))?.body;
  if (!pack || !content) throw new Error('no pack');
  const folder = mkdtempSync(join(whereBooksAre(), 'boilbook-published-'));
  const story = await loadPublicStory(reader, pack, house);
  const jars = day.jars.slice(0, 2).map((code, at) => ({ n: at + 1, code }));
  await publishJarPages(folder, [
    { content, jars, story, photo: await publicStoryPhoto(reader), gtin: '036000291452' },
  ]);
  const copies = readdirSync(join(folder, 'J')).filter((name) => name.endsWith('.jpg'));
  expect(copies).toHaveLength(1);
  for (const page of [`J/${jar()}`, `01/00036000291452/10/${day.pack}/21/${jar()}`]) {
    const src = /<img src="([^"]*)"/.exec(readFileSync(join(folder, page, 'index.html'), 'utf8'))?.[1] ?? '';
    expect(src).toMatch(/^(\.\.\/)+J\/photo-[0-9a-f]{16}\.jpg$/);
    expect(existsSync(join(folder, page, src))).toBe(true);
  }
  rmSync(folder, { recursive: true });
});

test('once it is removed, or the story no longer shown, nobody sees it', async () => {
  await tellStory('no');
  expect((await anybody(`/j/${jar()}/photo.jpg`)).statusCode).toBe(404);
  await tellStory('yes');
  const gone = await at.web.inject({
    method: 'POST',
    url: '/house/story-photo/remove',
    headers: { cookie, origin: 'http://localhost', 'content-type': 'application/x-www-form-urlencoded' },
    payload: new URLSearchParams({ ...(await originOn(at, cookie)), _once: 'away' }).toString(),
  });
  expect(gone.statusCode).toBe(303);
  expect((await anybody(`/j/${jar()}/photo.jpg`)).statusCode).toBe(404);
  expect((await anybody(`/J/${jar()}`)).body).not.toContain('<img');
});
