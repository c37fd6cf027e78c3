import { createHash } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import sharp from 'sharp';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { backUpBook, restoreBook } from '#libs/store/backup/backup.js';
import { copyBook } from '#libs/store/backup/copy-book.js';
import { type Book, openBook } from '#libs/store/book.js';
import { findEntry, readHead } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { inProcessTerminal } from '../support/command-line.js';
import { postgres } from '../support/engines.js';
import { owner, setUp } from '../support/newcomer.js';
import { originOn, signedIn, startServer, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';

let at: TestServer;
let cookie: string;
let day: Awaited<ReturnType<typeof writeDay>>;
const keys: Record<string, string> = {};
let picture: Buffer;
const server = postgres();

beforeAll(async () => {
  await server.start();
  at = await startServer();
  await setUp(at);
  cookie = await signedIn(at, owner.initials, owner.password);
  day = await writeDay(at);
  for (const role of ['helper', 'guest']) {
    const made = await addKey(at.book, 'home', { name: role, role }, at.clock.now);
    if ('key' in made) keys[role] = made.key;
  }
  picture = await sharp({ create: { width: 300, height: 200, channels: 3, background: '#a62' } })
    .withExif({
      IFD0: { Make: 'Kettlephone', Orientation: '6' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '44/1 15/1 0/1', GPSLongitudeRef: 'W', GPSLongitude: '72/1 30/1 0/1' },
    })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toBuffer();
}, 120_000);
afterAll(async () => {
  await at.close();
  await server.stop();
});

const sent = (url: string, bytes: Uint8Array, role = 'helper') =>
  at.web.inject({
    method: 'POST',
    url,
    headers: { authorization: `Bearer ${keys[role]}`, 'content-type': 'application/octet-stream' },
    payload: Buffer.from(bytes),
  });
const got = (url: string, headers: Record<string, string> = { cookie }) => at.web.inject({ url, headers });
const sha256 = (bytes: Buffer): string => createHash('sha256').update(bytes).digest('hex');

test('a photo is stored upright and small, without location or other metadata, and its hash is in the log', async () => {
  const before = await sharp(picture).metadata();
  expect([before.orientation, before.exif !== undefined]).toEqual([6, true]);
  const answer = await sent(`/api/photos/pack/${day.pack}?caption=seal%20of%20jar%2012`, picture);
  expect(answer.statusCode).toBe(201);
  const photo = answer.json<{ entry: number; sha256: string; width: number; height: number }>();
  expect([photo.width, photo.height]).toEqual([200, 300]);
  const image = (await got(`/photos/${photo.sha256}`)).rawPayload;
  expect(sha256(image)).toBe(photo.sha256);
  const stored = await sharp(image).metadata();
  expect([stored.format, stored.width, stored.height, stored.orientation, stored.exif, stored.icc, stored.xmp]).toEqual(
    ['jpeg', 200, 300, undefined, undefined, undefined, undefined],
  );
  expect(image.includes('Kettlephone')).toBe(false);
  const entry = await findEntry(at.book.read, photo.entry);
  expect(entry?.photo).toMatchObject({ kind: 'pack', id: day.pack, sha256: photo.sha256, caption: 'seal of jar 12' });
  const big = await sharp({ create: { width: 4000, height: 3000, channels: 3, background: '#246' } })
    .png()
    .toBuffer();
  expect((await sent(`/api/photos/gathering/G041`, big)).json()).toMatchObject({ width: 1600, height: 1200 });
});

test('it is shown on the page of its lot and record, and served only to people who are signed in', async () => {
  const { photos } = (
    await at.web.inject({ url: `/api/photos/pack/${day.pack}`, headers: { authorization: `Bearer ${keys['guest']}` } })
  ).json<{
    photos: { sha256: string }[];
  }>();
  const [first] = photos;
  for (const page of [`/lots/${day.pack}`, `/records/pack/${day.pack}`, `/photos/of/pack/${day.pack}`]) {
    const { body } = await got(page);
    expect([page, body.includes(`/photos/${first?.sha256}/small`), body.includes('seal of jar 12')]).toEqual([
      page,
      true,
      true,
    ]);
  }
  const small = await got(`/photos/${first?.sha256}/small`);
  expect([small.headers['content-type'], small.headers['x-content-type-options']]).toEqual(['image/jpeg', 'nosniff']);
  for (const path of [`/photos/${first?.sha256}`, `/photos/${first?.sha256}/small`, `/photos/of/pack/${day.pack}`])
    expect((await got(path, {})).headers.location).toMatch(/^\/sign-in/);
  expect((await got(`/api/photos/${first?.sha256}`, {})).statusCode).toBe(401);
  expect((await sent(`/api/photos/pack/${day.pack}`, picture, 'guest')).statusCode).toBe(403);
});

test('a form can send one too, and the same form twice is one photo', async () => {
  const origin = await originOn(at, cookie);
  const boundary = 'photo-boundary';
  const field = (name: string, value: string): string =>
    `--${boundary}\r\nContent-Disposition: form-data; name="${name}"\r\n\r\n${value}\r\n`;
  const body = Buffer.concat([
    Buffer.from(
      Object.entries({ ...origin, _once: 'photo-1', caption: 'gauge' })
        .map(([name, value]) => field(name, value))
        .join('') +
        `--${boundary}\r\nContent-Disposition: form-data; name="photo"; filename="x.jpg"\r\nContent-Type: image/jpeg\r\n\r\n`,
    ),
    picture,
    Buffer.from(`\r\n--${boundary}--\r\n`),
  ]);
  const send = () =>
    at.web.inject({
      method: 'POST',
      url: `/photos/of/pack/${day.cold}`,
      headers: { cookie, origin: 'http://localhost', 'content-type': `multipart/form-data; boundary=${boundary}` },
      payload: body,
    });
  expect([(await send()).statusCode, (await send()).statusCode]).toEqual([303, 303]);
  const listed = await at.web.inject({
    url: `/api/photos/pack/${day.cold}`,
    headers: { authorization: `Bearer ${keys['guest']}` },
  });
  expect(listed.json<{ photos: unknown[] }>().photos).toHaveLength(1);
});

test('a file that is no plain photo is refused with a sentence, whatever its name, and nothing is written', async () => {
  const { entries } = await readHead(at.book.read);
  const small = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#000' } })
    .jpeg()
    .toBuffer();
  const png = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#000' } })
    .png()
    .toBuffer();
  const resized = (jpeg: Buffer, height: number, width: number): Buffer => {
    const file = Buffer.from(jpeg);
    const frame = file.indexOf(Buffer.from([0xff, 0xc0]));
    file.writeUInt16BE(height, frame + 5);
    file.writeUInt16BE(width, frame + 7);
    return file;
  };
  const bomb = Buffer.from(png);
  bomb.writeUInt32BE(60_000, 16);
  bomb.writeUInt32BE(60_000, 20);
  bomb.writeUInt32BE(crc32(bomb.subarray(12, 29)), 29);
  for (const [what, bytes, sentence] of [
    ['nothing', Buffer.alloc(0), /got nothing/],
    ['an SVG', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>'), /a drawing \(SVG\)/],
    ['a PDF', Buffer.from('%PDF-1.7\n1 0 obj\n'), /a PDF/],
    ['a web page', Buffer.from('<!doctype html><p>hello'), /another kind of file/],
    [
      'a JPEG that is a PDF too',
      Buffer.concat([small.subarray(0, 20), Buffer.from('%PDF-1.4'), small.subarray(20)]),
      /is a PDF as well/,
    ],
    [
      'a JPEG that is a ZIP too',
      Buffer.concat([small, Buffer.from('PK\u0005\u0006'.padEnd(22, '\0'), 'latin1')]),
      /is a ZIP file as well/,
    ],
    ['a JPEG of 100 million points', resized(small, 10_000, 10_001), /at most 64 million points/],
    ['a small file of 3,600 million points', bomb, /at most 64 million points/],
    ['half a JPEG', picture.subarray(0, picture.length / 2), /damaged or not a picture/],
    [
      'random bytes behind the mark of a JPEG',
      Buffer.concat([Buffer.from([0xff, 0xd8, 0xff]), Buffer.alloc(500, 7)]),
      /damaged or not a picture/,
    ],
    ['21 MB', Buffer.alloc(21 * 1024 * 1024, 1), /at most 20 MB/],
  ] as const) {
    const answer = await sent(`/api/photos/pack/${day.pack}`, bytes);
    expect([what, answer.statusCode, answer.json<{ detail: string }>().detail]).toEqual([
      what,
      422,
      expect.stringMatching(sentence),
    ]);
  }
  expect((await sent('/api/photos/pack/NONE', picture)).statusCode).toBe(404);
  expect((await sent('/api/photos/nothing/NONE', picture)).statusCode).toBe(404);
  expect((await readHead(at.book.read)).entries).toBe(entries);
});

test('a record holds at most twelve', async () => {
  for (let n = 0; n < 12; n++) expect((await sent('/api/photos/boil/26077A', picture)).statusCode).toBe(201);
  const full = await sent('/api/photos/boil/26077A', picture);
  expect([full.statusCode, full.json<{ detail: string }>().detail]).toEqual([
    409,
    expect.stringContaining('12 photos'),
  ]);
});

test('backup, restore and a move to PostgreSQL and back keep every photo, and verify says when one is missing or altered', async () => {
  const folder = at.server.settings.folder;
  await backUpBook(at.book, join(folder, 'photos.sqlite'));
  const file = join(folder, 'elsewhere', 'book.sqlite');
  await restoreBook(join(folder, 'photos.sqlite'), file, '2026-03-20');
  const restored = await openBook({ file });
  const there = await server.freshBook();
  expect(await copyBook(restored, there)).toHaveProperty('entries');
  const back = await openBook({ file: join(folder, 'back', 'book.sqlite') });
  expect(await copyBook(there, back)).toHaveProperty('entries');
  const images = (book: Book) =>
    book.read.rows`SELECT sha256, bytes, content FROM household_attachment ORDER BY sha256`;
  for (const book of [restored, there, back]) {
    expect(await verifyBook(book)).toMatchObject({ ok: true });
    expect(await images(book)).toEqual(await images(at.book));
  }
  const [first] = (await images(back)) as { sha256: string }[];
  const name = first?.sha256 ?? '';
  await back.writeHousehold(
    (sql) => sql.run`UPDATE household_attachment SET content = ${picture.toString('base64')} WHERE sha256 = ${name}`,
  );
  expect((await verifyBook(back)).firstDifference).toMatch(/^entry \d+: the photo of .* is altered$/);
  await back.writeHousehold((sql) => sql.run`DELETE FROM household_attachment WHERE sha256 = ${name}`);
  expect((await verifyBook(back)).firstDifference).toMatch(/^entry \d+: the photo of .* is missing$/);
  await restored.close();
  await back.close();
});

test('book photo adds one from a file', async () => {
  const terminal = inProcessTerminal();
  try {
    await terminal.run('setup', '--name', 'Tamarack Hollow Sugarhouse', '--place', 'Vermont');
    writeFileSync(terminal.path('g.csv'), 'id,gathered_at,source,volume\nG041,2026-03-17T16:00,upper lines,12 gal\n');
    await terminal.json('import', 'gatherings', terminal.path('g.csv'));
    writeFileSync(terminal.path('tank.jpg'), picture);
    const done = await terminal.json('photo', 'G041', terminal.path('tank.jpg'), '--caption', 'tank');
    expect(done).toMatchObject({ kind: 'gathering', id: 'G041', width: 200, height: 300, caption: 'tank' });
    writeFileSync(terminal.path('tank.jpg'), '%PDF-1.7');
    const refused = await terminal.run('photo', 'G041', terminal.path('tank.jpg'));
    expect([refused.exit, refused.err]).toEqual([2, expect.stringContaining('got a PDF')]);
    expect((await terminal.run('photo', 'G041', terminal.path('none.jpg'))).exit).toBe(3);
    expect((await terminal.json('verify'))['ok']).toBe(true);
  } finally {
    terminal.remove();
  }
});

function crc32(bytes: Buffer): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let n = 0; n < 8; n++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}
