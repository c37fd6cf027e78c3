import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { loadStoredLogo, saveLogo } from '#libs/actions/labels/logo.js';
import { sentencesOf } from '#libs/actions/record/problem.js';
import { startServer, type TestServer } from '../support/server.js';

let at: TestServer;
beforeAll(async () => {
  at = await startServer();
});
afterAll(() => at.close());

const svg = (inside: string): Buffer =>
  Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 100">${inside}</svg>`);
const save = (bytes: Uint8Array) =>
  saveLogo(at.book, { sugarhouse: 'home', by: 'OE', author: 'OE', now: at.clock.now, zone: 'America/New_York' }, bytes);

test('a dark drawing is stored, cropped to its ink and redrawn', async () => {
  const saved = await save(svg('<circle cx="100" cy="50" r="30" fill="#203040"/>'));
  if ('problem' in saved) throw new Error(sentencesOf(saved.problem).join(' '));
  expect(saved.logo.kind).toBe('svg');
  expect(saved.logo.widthPx / saved.logo.heightPx).toBeCloseTo(1, 1);
  expect([...saved.logo.png.subarray(1, 4)]).toEqual([...Buffer.from('PNG')]);
});

test.each<[string, Buffer, RegExp]>([
  ['nothing', Buffer.alloc(0), /nothing/],
  ['one that is too large', Buffer.concat([svg(''), Buffer.alloc(600 * 1024, 32)]), /601? KiB: save it smaller/],
  ['another kind of file', Buffer.from('GIF89a and so on'), /another kind of file/],
  ['a script', svg('<script>1</script>'), /script/],
  ['an attribute that runs', svg('<path d="M0 0h9v9z" onload="x()"/>'), /script/],
  ['a reference elsewhere', svg('<use href="https://example.org/a.svg#b"/>'), /outside it/],
  ['a picture inside', svg('<image href="data:image/png;base64,AAAA"/>'), /picture inside/],
  ['letters', svg('<text x="1" y="9">Maple</text>'), /outlines/],
  ['an element that is not a shape', svg('<foreignObject/>'), /foreignObject/],
  ['one too pale', svg('<rect width="200" height="60" fill="#ffe9a8"/>'), /draw it darker/],
  ['a broken PNG', Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 1, 2, 3]), /broken PNG/],
])('%s is refused with a sentence', async (_what, bytes, says) => {
  const answer = await save(bytes);
  if (!('problem' in answer)) throw new Error('it was kept');
  expect(sentencesOf(answer.problem).join(' ')).toMatch(says);
});

test('a script can put a drawing on labels and remove it', async () => {
  const made = await addKey(at.book, 'home', { name: 'labels', role: 'owner' }, at.clock.now);
  if (!('key' in made)) throw new Error('no key');
  const send = (url: string, body?: object) =>
    at.web.inject({
      method: 'POST',
      url,
      headers: { authorization: `Bearer ${made.key}`, 'content-type': 'application/json' },
      payload: JSON.stringify(body ?? {}),
    });
  const drawing = svg('<circle cx="100" cy="50" r="30" fill="#203040"/>').toString('base64');
  expect((await send('/api/logo', { file: drawing })).statusCode).toBe(201);
  const off = await send('/api/logo/remove');
  expect([off.statusCode, off.json()]).toEqual([200, { logo: null }]);
  expect(await loadStoredLogo({ sql: at.book.read, sugarhouse: 'home' })).toBeUndefined();
});
