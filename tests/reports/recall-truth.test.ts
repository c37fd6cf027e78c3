import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { loadSeasonContext } from '#libs/actions/season/season-context.js';
import { readRecall } from '#libs/actions/recall/read-recall.js';
import { writeRecallPdf } from '#libs/reports/recall/recall-pdf.js';
import { writeContext, recordOrThrow } from '../support/sugarhouse.js';
import { plain } from '../support/documented-season.js';
import { bytesOf, readTaggedPdf } from '../support/read-pdf.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { engine } from '../support/one-pack-season.js';

beforeAll(() => engine.start());
afterAll(() => engine.stop());

describe('a recall says only what was recorded', () => {
  test('jars without a recorded kind of dispatch are not called a sale, and the authority has its telephone', async () => {
    const book = await engine.freshBook();
    await recordOrThrow(book, 'house', { authority: 'food safety office', authorityPhone: '802 555 0199' });
    for (const kind of ['gathering', 'boil', 'pack']) await recordOrThrow(book, kind);
    await recordOrThrow(book, 'dispatch', { jars: '12' });
    await recordOrThrow(book, 'dispatch', { jars: '2', kind: 'gift', to: 'June Pascoe', sentAt: '2026-04-12T09:00' });
    const recall = await book.snapshot(async (sql) =>
      readRecall(sugarhouseReader(sql, 'home'), '26077A-1', await loadSeasonContext(sql, writeContext()), {
        why: 'glass found in a jar',
        by: 'WE',
      }),
    );
    if (!recall) throw new Error('no recall');
    const pdf = await readTaggedPdf(await bytesOf((out) => writeRecallPdf(recall, out, writeContext().now)));
    const text = plain(pdf.text);
    expect(text).toContain('12 jars of 26077A-1, how: not recorded, 2026-04-11');
    expect(text).toContain('2 jars of 26077A-1, gift, 2026-04-12');
    expect(text).not.toMatch(/\bsale\b/);
    expect(text).toContain('Reason: glass found in a jar');
    expect(text).toContain('Hazard: not recorded');
    expect(text).toContain('Who may be hurt: not recorded');
    expect(text).toMatch(/food safety office not recorded 802 555 0199/);
    expect(pdf.roles.filter((role) => role === 'P').length).toBeGreaterThan(10);
    const [first, second] = pdf.pages.map((page) => plain(page.text));
    expect(first).toContain('26077A-1');
    expect(second).toContain('Whom to call');
  });
});
