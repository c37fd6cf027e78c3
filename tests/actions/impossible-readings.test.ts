import { describe, expect, test } from '@jest/globals';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import { pastMoment, moment } from '#libs/actions/record/fields.js';
import { importRows } from '#libs/actions/import/import-rows.js';
import type { Kind } from '#libs/actions/record/kind.js';
import type { ParseOptions } from '#libs/actions/record/parse-options.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { packs } from '#libs/actions/kinds/pack.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { record } from '#libs/actions/record/record.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { readHead } from '#libs/store/log/log.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, write, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

describe.each(engines())('Impossible evidence, on $name', (engine) => {
  const season = seasonCopies(engine);
  const aRun = { fromLots: '26077A:1 qt', jars: '4' };
  const faultsOf = (answer: object) => {
    const problem = 'problem' in answer ? (answer as Refusal).problem : undefined;
    return problem?.kind === 'invalid' ? problem.faults : [];
  };
  const file = (kind: Kind, ...lines: string[]) =>
    importRows(season.book, writeContext(), kind, new TextEncoder().encode(`${lines.join('\n')}\n`));

  describe('hotter in the jar than boiling syrup', () => {
    test('is refused with the likely mistake, in a pack, an action and a file', async () => {
      const { entries } = await readHead(season.book.read);
      for (const [reading, says] of [
        ['185 C', /at most 225 °F or 107\.2 °C.*did you mean 185 °F\?/],
        ['107.3 C', /did you mean 107\.3 °F\?/],
        ['260 F', /at most 225 °F.*is a digit wrong\?/],
        ['225.1 F', /is a digit wrong\?/],
        ['300 C', /is a digit wrong\?/],
      ] as const) {
        const expected: unknown = expect.stringMatching(says);
        const refused = await write(season.book, 'pack', { ...aRun, fillTemps: ['186 F', reading] });
        expect(faultsOf(refused)).toEqual([
          { field: 'fillTemps', expected, got: `"${reading}" as the second reading` },
        ]);
        const acted = await write(season.book, 'action', { lot: pack, fillTemps: reading });
        expect(faultsOf(acted)).toMatchObject([{ field: 'fillTemps', expected }]);
        const imported = await file(
          packs,
          'from_lots,packed_at,container,jars,fill_temps,by',
          `26077A:1 qt,2026-03-19T10:00,glass jar 8 fl oz,4,${reading};186 F,OE`,
        );
        expect(imported.faults).toMatchObject([{ line: 2, column: 'fill_temps', expected }]);
      }
      expect((await readHead(season.book.read)).entries).toBe(entries);
    });

    test('is accepted at the boiling point', async () => {
      const { id } = await recordOrThrow(season.book, 'pack', {
        ...aRun,
        fillTemps: ['225 F', '107.2 C', '212 F', '100 C'],
      });
      expect((await findLot(season.reader(), id))?.state).toBe('open');
    });

    test('in an old pack can be read, and the pack can be corrected elsewhere and added to; the reading can’t be entered again', async () => {
      const { id } = done(
        await record(season.book, writeContext(), asOlderPrograms(packs), {
          ...(await packTyped()),
          fillTemps: '185 C',
        }),
      );
      done(await correctEntry(season.book, writeContext(), id, 'the colour was read', { transmittance: '55 %' }));
      const added = await record(season.book, writeContext(), packs, { fillTemps: ['186 F'] }, { add: true, of: id });
      expect(done(added).outcome).toBe('added');
      const body = (await findRecord(season.reader(), 'pack', id))?.body;
      expect(body?.fillTemps.map(({ typed }) => typed)).toEqual(['185 C', '186 F']);
      expect(faultsOf(await correctEntry(season.book, writeContext(), id, 'x', { fillTemps: '186 C' }))).toMatchObject([
        { expected: expect.stringContaining('did you mean 186 °F?') },
      ]);
      done(await correctEntry(season.book, writeContext(), id, 'the unit was wrong', { fillTemps: '185 F' }));
    });

    test('in an old file that is in the book already is accepted again and changes nothing', async () => {
      const lines = [
        'id,from_lots,packed_at,container,jars,fill_temps,by',
        'P7,26077A:1 qt,2026-03-19T10:00,glass jar 8 fl oz,4,185 C,OE',
        ',26077A:1 qt,2026-03-19T11:00,glass jar 8 fl oz,4,186 C,OE',
      ];
      const once = await importRows(
        season.book,
        writeContext(),
        asOlderPrograms(packs),
        new TextEncoder().encode(`${lines.join('\n')}\n`),
      );
      expect(once).toMatchObject({ written: 2, faults: [] });
      expect(await file(packs, ...lines)).toMatchObject({ written: 0, same: 2, faults: [] });
    });
  });

  describe('a pack from before its boil', () => {
    test('is refused, also where the syrup came through another pack', async () => {
      const early = await write(season.book, 'pack', { ...aRun, packedAt: '2026-03-18T07:29' });
      expect(faultsOf(early)).toMatchObject([
        { field: 'packedAt', expected: expect.stringContaining('after boil 26077A began, 2026-03-18T07:30') },
      ]);
      const again = await write(season.book, 'pack', {
        fromLots: `${pack}:1 qt`,
        jars: '4',
        packedAt: '2026-03-17T10:00',
      });
      expect(faultsOf(again)).toMatchObject([
        { field: 'packedAt', expected: expect.stringContaining('26077A began') },
        { field: 'packedAt', expected: expect.stringContaining(`when ${pack} was packed`) },
      ]);
      // A boil is drawn off while it boils.
      await recordOrThrow(season.book, 'pack', { ...aRun, packedAt: '2026-03-18T07:30' });
    });

    test('can’t result from a correction of the pack or of the boil', async () => {
      const { entries } = await readHead(season.book.read);
      const earlier = await correctEntry(season.book, writeContext(), pack, 'the wrong day', {
        packedAt: '2026-03-17T10:00',
      });
      expect(faultsOf(earlier)).toMatchObject([{ field: 'packedAt' }]);
      const later = await correctEntry(season.book, writeContext(), '26077A', 'the wrong day', {
        beganAt: '2026-03-19T10:01',
        finishedAt: '2026-03-19T19:00',
      });
      expect(faultsOf(later)).toMatchObject([
        { field: 'beganAt', expected: expect.stringContaining(`before ${pack} was packed from it`) },
      ]);
      expect((await readHead(season.book.read)).entries).toBe(entries);
      done(await correctEntry(season.book, writeContext(), '26077A', 'read wrong', { beganAt: '2026-03-18T08:00' }));
    });

    test('can’t be moved by a correction past a later record of its jars, until that is corrected', async () => {
      const acted = { lot: pack, jars: '1-4', cause: 'cold-jar', found: 'cold', done: 'filled again', by: 'WE' };
      const action = done(
        await write(season.book, 'action', { ...acted, at: '2026-03-20T09:00', fillTemps: '187 F jar 4' }),
      );
      const { entries } = await readHead(season.book.read);
      const later = () =>
        correctEntry(season.book, writeContext(), pack, 'the wrong day', { packedAt: '2026-03-21T10:00' });
      expect(faultsOf(await later())).toMatchObject([
        {
          field: 'packedAt',
          expected: `a time before corrective action ${action.id} (2026-03-20 09:00); if that time is wrong, correct it first`,
        },
      ]);
      expect((await readHead(season.book.read)).entries).toBe(entries);
      // An hour later on the same day comes after nothing else.
      done(await correctEntry(season.book, writeContext(), pack, 'an hour late', { packedAt: '2026-03-19T11:00' }));
      done(
        await correctEntry(season.book, writeContext(), String(action.entry), 'the wrong day', {
          at: '2026-03-22T09:00',
        }),
      );
      done(await later());
      done(
        await write(season.book, 'dispatch', {
          lot: pack,
          jars: '1',
          to: 'the road stand',
          sentAt: '2026-03-23T09:00',
          alreadyLeft: 'yes',
          by: 'WE',
        }),
      );
      const past = await correctEntry(season.book, writeContext(), pack, 'the wrong week', {
        packedAt: '2026-03-24T10:00',
      });
      expect(faultsOf(past)).toMatchObject([{ expected: expect.stringMatching(/^a time before corrective action /) }]);
    });

    test('in an old book can be corrected in its other fields, and in its time', async () => {
      const early = '2026-03-17T10:00:00-04:00';
      const unordered: Kind = {
        ...packs,
        prepare: async (at, read, before) => {
          const prepared = await packs.prepare(at, read, before);
          return 'problem' in prepared
            ? prepared
            : { ...prepared, happenedAt: early, body: { ...(prepared.body as PackBody), packedAt: early } };
        },
      };
      const { id } = done(await record(season.book, writeContext(), unordered, await packTyped()));
      const named: Kind = { ...packs, fields: { ...packs.fields, note: packs.fields['note']! } };
      expect(
        done(await record(season.book, writeContext(), named, { note: 'from the binder' }, { add: true, of: id }))
          .outcome,
      ).toBe('added');
      done(await correctEntry(season.book, writeContext(), id, 'the wrong day', { packedAt: '2026-03-20T10:00' }));
    });
  });

  describe('a fact from the future', () => {
    // It is 2026-05-01T18:00 in Harrow Notch.
    const soon = '2026-05-01T18:10';
    const ahead = '2026-05-01T18:11';
    test('is refused if over ten minutes ahead, with the question whether the clock is right', async () => {
      const facts: [kind: string, field: string, but: Record<string, string>][] = [
        ['gathering', 'gatheredAt', { id: 'G009' }],
        ['receipt', 'receivedAt', { id: 'R009' }],
        ['boil', 'beganAt', { finishedAt: '', gatherings: '' }],
        ['boil', 'finishedAt', { gatherings: '' }],
        ['boil', 'restedFrom', { gatherings: '' }],
        ['draw', 'drawnAt', { id: 'D09' }],
        ['pack', 'packedAt', aRun],
        ['action', 'at', { lot: pack }],
      ];
      for (const [kind, field, but] of facts) {
        const { entries } = await readHead(season.book.read);
        expect(faultsOf(await write(season.book, kind, { ...but, [field]: ahead }))).toEqual([
          {
            field,
            expected: 'a time in the past: it is 2026-05-01T18:00 by this computer’s clock. Is the clock right?',
            got: `"${ahead}"`,
          },
        ]);
        expect((await readHead(season.book.read)).entries).toBe(entries);
        await recordOrThrow(season.book, kind, { ...but, [field]: soon });
      }
      for (const name of [
        ...['line', 'check', 'complaint', 'cleaning', 'filter', 'equipment', 'supply', 'water-test', 'training'],
        ...['spent', 'count'],
      ] as RecordKind[]) {
        const kind = kindByName.get(name);
        const at = name === 'count' ? 'countedAt' : 'at';
        expect(faultsOf(await record(season.book, writeContext(), kind!, { [at]: ahead }))).toContainEqual(
          expect.objectContaining({ field: at, expected: expect.stringContaining('Is the clock right?') }),
        );
      }
    });

    test('a plan to send jars, and the end of a rest, may be in the future', async () => {
      await recordOrThrow(season.book, 'dispatch', { sentAt: '2026-07-01T09:00' });
      await recordOrThrow(season.book, 'boil', {
        gatherings: '',
        beganAt: '2026-05-01T07:00',
        finishedAt: '2026-05-01T17:00',
        restedFrom: '2026-05-01T17:30',
        restedUntil: '2026-05-02T08:00',
      });
    });

    test('in an old book can still be corrected in its other fields', async () => {
      const { id } = done(
        await record(season.book, writeContext(), asOlderPrograms(packs), {
          ...(await packTyped()),
          packedAt: '2026-08-01T10:00',
        }),
      );
      done(await correctEntry(season.book, writeContext(), id, 'the colour was read', { transmittance: '55 %' }));
      expect(
        problemOf(await correctEntry(season.book, writeContext(), id, 'x', { packedAt: '2026-08-02T10:00' })).text,
      ).toContain('Is the clock right?');
    });
  });

  const packTyped = async () => {
    const { lot: _, ...typed } = (await findRecord(season.reader(), 'pack', pack))!.typed;
    return { ...typed, ...aRun };
  };
});

/** A kind as earlier programs parsed it: with any temperature in the jar, and any time. */
function asOlderPrograms(kind: Kind): Kind {
  const fields = Object.entries(kind.fields).map(([name, field]) => [
    name,
    {
      ...field,
      read:
        field.read === pastMoment
          ? moment
          : (typed: string, options: ParseOptions) => field.read(typed, options, typed),
    },
  ]);
  return { ...kind, fields: Object.fromEntries(fields) as Kind['fields'] };
}
