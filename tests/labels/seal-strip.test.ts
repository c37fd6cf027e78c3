import { PassThrough } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { expect, test } from '@jest/globals';
import { drawSealStrips } from '#libs/labels/drawing/draw-jar-paper.js';
import { plainLook } from '#libs/labels/content/label-look.js';
import { openPdf, textsOf } from '../support/read-symbols.js';

/** The texts of one strip, with their sizes. */
async function stripOf(maker: string, productFr?: string) {
  const out = new PassThrough();
  const bytes = buffer(out);
  const sheet = { maker, product: 'Maple syrup', productFr, lot: '26077A-1', packed: 'Packed 19 Mar 2026', story: [] };
  const drawn = await drawSealStrips(
    { paper: { ...sheet, look: plainLook, practice: false }, count: 1, createdAt: new Date('2026-03-19') },
    out,
  );
  expect(drawn).toEqual({ pages: 1 });
  const document = await openPdf(await bytes);
  const texts = (await textsOf(document, 1)).filter(({ text }) => !text.startsWith('Print on a sheet'));
  await document.destroy();
  return texts;
}

const long = 'The Sugarhouse of the Upper Tamarack Hollow Cooperative';

test.each([
  ['Tamarack Hollow Sugarhouse', ['Tamarack Hollow Sugarhouse']],
  [long, ['The Sugarhouse of the Upper', 'Tamarack Hollow Cooperative']],
])('a seal strip has the whole name of %s in letters that can be read', async (maker, lines) => {
  const texts = await stripOf(maker);
  for (const line of lines) expect(texts.find(({ text }) => text === line)?.emMm).toBeGreaterThanOrEqual(2.3);
});

test.each([
  ['many words', `${long} of Bracken Falls and all the Villages beside the River`],
  ['one word', 'Sugarhouseofthetamarackhollowcooperativeofbrackenfallsandelsewhere'],
])('a name of %s too long for a seal strip ends in an ellipsis, and the lot code stays whole', async (_, maker) => {
  const texts = await stripOf(maker, 'Sirop d’érable');
  const cut = texts.find(({ text }) => text.endsWith('…'));
  expect(cut?.emMm).toBeGreaterThanOrEqual(2.29);
  expect(cut?.widthMm).toBeLessThanOrEqual(42.1);
  expect(texts.map(({ text }) => text)).toContain('26077A-1');
});
