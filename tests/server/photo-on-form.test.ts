import { afterAll, beforeAll, expect, test } from '@jest/globals';
import sharp from 'sharp';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findAttachment, photosOf } from '#libs/store/household/attachments.js';
import { readHead } from '#libs/store/log/log.js';
import { jarsOfPack, recordsOf } from '#libs/store/queries/lots.js';
import { owner, setUp } from '../support/newcomer.js';
import { originOn, posted, signedIn, startServer, type TestServer } from '../support/server.js';

let at: TestServer;
let cookie = '';
let picture: Buffer;
beforeAll(async () => {
  at = await startServer();
  await setUp(at);
  cookie = await signedIn(at, owner.initials, owner.password);
  picture = await sharp({ create: { width: 3000, height: 2000, channels: 3, background: '#a62' } })
    .withExif({ IFD0: { Make: 'Kettlephone' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '44/1 15/1 0/1' } })
    .jpeg()
    .toBuffer();
}, 60_000);
afterAll(() => at.close());

const reader = () => sugarhouseReader(at.book.read, 'home');
const entries = async (): Promise<number> => (await readHead(at.book.read)).entries;

/** Posts a form as a browser without script does when the form has a file box. */
async function sent(url: string, fields: Record<string, string | string[]>, photo: Buffer) {
  const boundary = 'a-form-with-a-photo';
  const all = Object.entries({ ...(await originOn(at, cookie)), ...fields });
  const parts = all.flatMap(([name, values]) =>
    [values]
      .flat()
      .map((value) => `--${boundary}\r\nContent-Disposition: form-data; name="${name}"\r\n\r\n${value}\r\n`),
  );
  const file = `--${boundary}\r\nContent-Disposition: form-data; name="photo"; filename="x"\r\nContent-Type: image/jpeg\r\n\r\n`;
  return at.web.inject({
    method: 'POST',
    url,
    headers: { cookie, origin: 'http://localhost', 'content-type': `multipart/form-data; boundary=${boundary}` },
    payload: Buffer.concat([Buffer.from(parts.join('') + file), photo, Buffer.from(`\r\n--${boundary}--\r\n`)]),
  });
}

const gathering = {
  _once: 'gathering-with-a-photo-1',
  volume: '40',
  'volume~unit': 'gal',
  source: 'South road',
  gatheredAt: '2026-03-10T08:00',
};

test('the forms of sap, boils and their log, packs, checks, dispatches, corrective actions and returned jars have a box for a photo that needs no script', async () => {
  const boil = { beganAt: '2026-03-08T08:00', finishedAt: '2026-03-08T14:00', syrupVolume: '3 gal', lot: '26067A' };
  const pack = {
    fromLots: '26067A',
    packedAt: '2026-03-09T10:00',
    container: 'glass jar 8 fl oz',
    jars: '4',
    lot: '26067A-1',
  };
  expect((await sent('/boils/finished', boil, Buffer.alloc(0))).statusCode).toBe(303);
  expect((await sent('/packs/finished', { ...pack, 'fromLots~more': '26067A' }, Buffer.alloc(0))).statusCode).toBe(303);
  for (const url of [
    '/sap/gather',
    '/sap/receive',
    '/boils/finished',
    '/packs/finished',
    '/supporting-records/checks/new',
    '/supporting-records/cleanings/new',
    '/lots/26067A-1/act',
    '/returns/26067A-1',
    '/dispatches/new',
    '/packs/26067A-1/density',
    '/packs/26067A-1/seals',
    '/boils/26067A/log/reading',
    '/boils/26067A/log/cup',
    '/boils/26067A/log/draw',
  ]) {
    const { body, statusCode } = await at.web.inject({ url, headers: { cookie } });
    expect([url, statusCode]).toEqual([url, 200]);
    expect([url, /<form method="post"[^>]*enctype="multipart\/form-data"/.test(body)]).toEqual([url, true]);
    expect([url, body.includes('name="photo" type="file"')]).toEqual([url, true]);
  }
});

test('a photo taken on the form is saved with the record, resized and without its location, once however often it is sent', async () => {
  for (const _ of [1, 2])
    expect((await sent('/sap/gather', { ...gathering, 'photo~caption': 'the float' }, picture)).statusCode).toBe(303);
  const saved = await recordsOf(reader(), 'gathering');
  expect(saved.map(({ typed }) => [typed['volume'], typed['source']])).toEqual([['40 gal', 'South road']]);
  const photos = await photosOf(reader(), 'gathering', saved[0]?.id ?? '');
  expect(photos).toMatchObject([{ caption: 'the float', width: 1600, height: 1067 }]);
  const attachment = await findAttachment(reader(), photos[0]?.sha256 ?? '');
  expect(Buffer.isBuffer(attachment) && attachment.includes('Kettlephone')).toBe(false);
  expect((await sharp(attachment as Buffer).metadata()).exif).toBeUndefined();
});

test('a photo taken on a quick form or a line of the log belongs to the pack or the line, a tray’s to each of its dispatches', async () => {
  const boil = { beganAt: '2026-03-18T08:00', _once: 'a-boil-with-photos', waterBoilsAt: '210.4 F', lot: '26077A' };
  expect((await sent('/boils/begin', boil, Buffer.alloc(0))).statusCode).toBe(415);
  const { statusCode } = await posted(at, '/boils/begin', boil, { cookie });
  expect(statusCode).toBe(303);
  const pan = { temperature: '214', 'temperature~unit': 'F', 'at~ago': 'now', _once: 'pan-photo' };
  for (const _ of [1, 2]) expect((await sent('/boils/26077A/log/reading', pan, picture)).statusCode).toBe(303);
  const lines = await recordsOf(reader(), 'line');
  expect(await photosOf(reader(), 'line', lines[0]?.id ?? '')).toHaveLength(1);
  expect(lines).toHaveLength(1);

  const begun = { 'fromLots~more': '26067A', 'fromLots~more~amount': '0.2 gal', container: 'glass jar 8 fl oz' };
  for (const lot of ['26067A-2', '26067A-3'])
    expect(
      (await posted(at, '/packs/begin', { ...begun, lot, 'packedAt~ago': 'now', _once: lot }, { cookie })).statusCode,
    ).toBe(303);
  const fill = { temperature: '186', 'temperature~unit': 'F', upTo: '2', _once: 'jar-photo', 'photo~caption': 'T1' };
  for (const _ of [1, 2]) expect((await sent('/packs/26067A-2/fill', fill, picture)).statusCode).toBe(303);
  expect(await photosOf(reader(), 'pack', '26067A-2')).toMatchObject([{ caption: 'T1' }]);
  const [pack] = (await recordsOf(reader(), 'pack')).filter(({ id }) => id === '26067A-2');
  expect(pack?.body.fillTemps).toHaveLength(1);
  expect((await at.web.inject({ url: '/lots/26067A-2', headers: { cookie } })).body).toContain('alt="T1"');

  for (const lot of ['26067A-2', '26067A-3'])
    expect((await sent(`/packs/${lot}/finish`, { jars: '2', _once: `${lot}-f` }, Buffer.alloc(0))).statusCode).toBe(
      303,
    );
  const codes: string[] = [];
  for (const lot of ['26067A-2', '26067A-3'])
    for await (const { code } of jarsOfPack(reader(), lot, 1, 1)) codes.push(code);
  const tray = {
    jars: codes.join('\n'),
    to: 'Millrace Green',
    kind: 'returned',
    'sentAt~ago': 'now',
    _once: 'tray-photo',
  };
  expect((await sent('/dispatches/new', tray, picture)).statusCode).toBe(303);
  const dispatches = await recordsOf(reader(), 'dispatch');
  expect(dispatches).toHaveLength(2);
  for (const { id } of dispatches) expect(await photosOf(reader(), 'dispatch', id)).toHaveLength(1);
}, 60_000);

test('with a file that is no photo, or too large, the record is not saved and what was typed stays', async () => {
  const before = await entries();
  for (const [what, photo, sentence] of [
    ['a PDF', Buffer.from('%PDF-1.7\n'), 'Photo: choose a photo as JPEG, PNG or WebP, not a PDF'],
    ['21 MB', Buffer.alloc(20.5 * 1024 * 1024, 0xff), 'Photo: choose at most 20 MB, not 20.0 MB'],
  ] as const) {
    const refused = await sent('/sap/gather', { ...gathering, _once: `wrong-photo-${photo.length}` }, photo);
    expect([what, refused.statusCode]).toEqual([what, 422]);
    expect(refused.body).toContain(`<a href="#f-photo-taken">${sentence}</a>`);
    expect(refused.body).toContain('value="40"');
    expect(refused.body).toMatch(/choose it again/);
  }
  expect(await entries()).toBe(before);
}, 60_000);

test('a fault in a field saves neither the record nor its photo', async () => {
  const before = await entries();
  const refused = await sent('/sap/gather', { ...gathering, _once: 'faulty-with-photo', volume: 'many' }, picture);
  expect(refused.statusCode).toBe(422);
  expect(await entries()).toBe(before);
});

test('a form with a photo that was drawn for somebody else is refused', async () => {
  const before = await entries();
  const other = await sent('/sap/gather', { ...gathering, _once: 'another-person-photo', _person: 'OE' }, picture);
  expect(other.statusCode).toBe(409);
  expect(other.body).toContain('made for another book');
  expect(await entries()).toBe(before);
});

test('a list of ticks and a malformed form are handled as without a photo', async () => {
  const cut = await at.web.inject({
    method: 'POST',
    url: '/sap/gather',
    headers: { cookie, origin: 'http://localhost', 'content-type': 'multipart/form-data; boundary=b' },
    payload: '--b\r\nContent-Disposition: form-data; name="volume"\r\n\r\n40',
  });
  expect(cut.statusCode).toBe(422);
  expect(cut.body).toContain('breaks off');
});
