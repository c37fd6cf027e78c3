import { Writable } from 'node:stream';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, test } from '@jest/globals';
import { writeSeasonPdf } from '#libs/reports/season/pdf.js';
import type { Season } from '#libs/reports/season/season.js';
import { bytesOf } from '../support/read-pdf.js';
import { longSeason, tamarackSeason } from './tamarack-season.js';

// How the yearly summary is written to a stream: `season-pdf` tests what it contains.
const createdAt = new Date('2026-06-01T13:00:00Z');
const pdfOf = (season: Season): Promise<Buffer> => bytesOf((out) => writeSeasonPdf(season, out, { createdAt }));

/** Bytes that are still in use once everything unused is collected. */
function heapInUse(): number {
  setFlagsFromString('--expose-gc');
  (runInNewContext('gc') as () => void)();
  return process.memoryUsage().heapUsed;
}

test('keeps nothing of a finished page in memory', async () => {
  const season = longSeason(160);
  const pages = { begun: 0 };
  const held: number[] = [];
  const out = new Writable({
    write: (piece: Buffer, _encoding, done) => {
      pages.begun += piece.toString('latin1').split('/Type /Page\n').length - 1;
      if (held.length < 2 && pages.begun >= [60, 160][held.length]!) held.push(heapInUse());
      done();
    },
  });
  await writeSeasonPdf(season, out, { createdAt, lotPages: 'all' });
  const [early = NaN, late = NaN] = held;
  // A hundred pages whose tagged content is kept are 2.3 MB; without it 0.1 to 0.6 MB, the texts set last among them.
  expect((late - early) / 2 ** 20).toBeLessThan(1.5);
});

test('waits for a slow output stream, and stops when it closes', async () => {
  let most = 0;
  let taken = 0;
  const slow = new Writable({
    highWaterMark: 1024,
    write: (chunk: Buffer, _encoding, done) => {
      taken += chunk.length;
      most = Math.max(most, chunk.length);
      setImmediate(done);
    },
  });
  await writeSeasonPdf(longSeason(80), slow, { createdAt });
  expect(taken).toBe((await pdfOf(longSeason(80))).length);
  const gone = new Writable({ write: (_chunk, _encoding, done) => done(new Error('the reader went away')) });
  await expect(writeSeasonPdf(longSeason(80), gone, { createdAt })).rejects.toThrow('the reader went away');
});

test('a fault while drawing reaches the output stream, so the document never looks complete', async () => {
  const season = tamarackSeason();
  const [first] = season.lots;
  const broken = { ...first, sentTo: null } as unknown as Season['lots'][number];
  await expect(pdfOf({ ...season, lots: [broken] })).rejects.toThrow(TypeError);
});
