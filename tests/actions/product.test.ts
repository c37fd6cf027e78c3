import { describe, expect, test } from '@jest/globals';
import type { AuthorityConsultation } from '#libs/actions/lots/authority-consultation.js';
import { importRows } from '#libs/actions/import/import-rows.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { findLabelablePack } from '#libs/actions/labels/label-run.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { record } from '#libs/actions/record/record.js';
import { historyOf } from '#libs/store/log/log.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

const consultation: AuthorityConsultation = {
  authority: 'Agency of Agriculture, R. Lund',
  askedAt: '2026-04-20',
  answer: 'may be sold with its process letter',
  byOwner: true,
};

describe.each(engines())('A pack of another product on $name', (engine) => {
  const season = seasonCopies(engine);
  const { lot, stops } = season;
  const corrected = async (but: Record<string, string>): Promise<void> => {
    const typed = (await findRecord(season.reader(), 'pack', pack))?.typed;
    done(
      await record(
        season.book,
        writeContext(),
        kindByName.get('pack')!,
        { ...typed, ...but },
        { of: pack, why: 'as it was' },
      ),
    );
  };
  const labels = async () => findLabelablePack(await loadJudgingContext(season.book.read, writeContext()), pack);
  const release = (of: Partial<AuthorityConsultation> = {}, at = {}) =>
    releaseLot(season.book, writeContext(at), pack, 'as agreed', { ...consultation, ...of });

  test('is held, and only an owner who names authority, day and answer releases it', async () => {
    await corrected({ product: 'barrel-aged' });
    expect([(await lot()).state, await stops()]).toEqual(['held', ['outside-these-rules']]);
    expect(problemOf(await releaseLot(season.book, writeContext(), pack, 'fine')).text).toContain(
      'Only an owner may release it',
    );
    expect(problemOf(await release({ byOwner: false })).kind).toBe('refused');
    const missing = problemOf(await release({ answer: ' ', askedAt: undefined }));
    expect([missing.kind, missing.text]).toEqual(['invalid', expect.stringMatching(/Asked at: [\s\S]*Answer: /)]);
    expect((await lot()).state).toBe('held');
    done(await release());
    expect((await lot()).state).toBe('released');
    const { byOwner: _, ...formatted } = consultation;
    expect((await lot()).verdict?.findings[0]).toMatchObject({ stop: false, accepted: { by: 'WE', ...formatted } });
    expect((await historyOf(season.reader(), pack)).at(-1)?.said).toMatchObject({
      accepted: [{ rule: 'outside-these-rules', ...formatted }],
    });
    // Judged again because of a later entry, it still is what the authority approved.
    await recordOrThrow(season.book, 'dispatch', { lot: pack, jars: '1' });
    await corrected({ note: 'third barrel' });
    expect((await lot()).state).toBe('released');
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('gets no syrup label, whether held or released', async () => {
    await corrected({ product: 'infused' });
    expect(problemOf(await labels()).text).toContain('no syrup label');
    done(await release());
    expect(problemOf(await labels()).text).toContain('no syrup label');
  });

  test('stays held if it was too thin before it was called another product', async () => {
    await corrected({ densityReading: '60 Bx' });
    expect(await stops()).toEqual(['density-too-thin']);
    await corrected({ densityReading: '60 Bx', product: 'below-density' });
    expect([(await lot()).state, await stops()]).toEqual(['held', ['outside-these-rules']]);
    await corrected({ densityReading: '60 Bx', product: '' });
    expect([(await lot()).state, await stops()]).toEqual(['held', ['density-too-thin']]);
  });

  test('is held again when it is called another, since the authority’s answer was for the first', async () => {
    await corrected({ product: 'infused' });
    done(await release());
    await corrected({ product: 'candy' });
    expect([(await lot()).state, await stops()]).toEqual(['held', ['outside-these-rules']]);
  });

  test('makes whatever is poured from it that product too', async () => {
    await corrected({ product: 'infused' });
    const { id } = await recordOrThrow(season.book, 'pack', {
      fromLots: `${pack}:1 qt`,
      jars: '4',
      packedAt: '2026-03-22T10:00',
    });
    expect(await stops(id)).toContain('outside-these-rules');
  });

  test('is named in its own column of a file; N/A is no product, and blank is pure maple syrup', async () => {
    const rows = (product: string, at: string) =>
      `product,from_lots,packed_at,hot_pack_temp,density_reading,density_at,density_by,container,container_prep,jars,fill_temps,seals_failed,clarity,off_flavour,by\n${product},26077A:8 fl oz,${at},190 F,67.2 Bx,68 F,refractometer,glass jar 8 fl oz,boiled,1,186 F,0,clear,none,OE\n`;
    const taken = async (product: string, at: string) =>
      importRows(season.book, writeContext(), kindByName.get('pack')!, Buffer.from(rows(product, at)));
    expect(await taken('maple cream', '2026-03-23T10:00')).toMatchObject({ written: 1, faults: [] });
    expect(await stops('26077A-2')).toEqual(['outside-these-rules']);
    expect(await taken('', '2026-03-23T11:00')).toMatchObject({ written: 1, faults: [] });
    expect((await lot('26077A-3')).state).toBe('open');
    expect((await taken('N/A', '2026-03-23T12:00')).faults).toMatchObject([
      { expected: expect.stringContaining('barrel-aged') },
    ]);
  });
});
