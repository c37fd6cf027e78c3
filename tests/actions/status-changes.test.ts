import { describe, expect, test } from '@jest/globals';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { findLabelablePack } from '#libs/actions/labels/label-run.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { recallLot, recallLots } from '#libs/actions/lots/recall-lots.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { historyOf, readHead } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, write, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

describe.each(engines())('A lot that is held, released or recalled on $name', (engine) => {
  const season = seasonCopies(engine);
  const { state, stops, packMore } = season;
  const judging = () => loadJudgingContext(season.book.read, writeContext());
  const hold = async (code: string, why = 'a lid that did not sit') =>
    done(await holdLot(season.book, writeContext(), code, why));
  const release = (code: string) => releaseLot(season.book, writeContext(), code, 'read again, all well');

  test('held by hand holds the lots made from it, which are released with it', async () => {
    await hold('26077A', 'a neighbour’s word about the sap');
    expect([await state('26077A'), await state()]).toEqual(['held', 'held']);
    expect(await stops()).toEqual(['held-upstream']);
    expect(problemOf(await release(pack)).text).toMatch(/Release the source lot first/);
    done(await release('26077A'));
    expect([await state('26077A'), await state()]).toEqual(['released', 'released']);
  });

  test('released upstream stays held where it has a hold of its own', async () => {
    const { id } = await packMore({ fillTemps: '170 F' });
    await hold('G001');
    done(await release('G001'));
    expect(await state(id)).toBe('held');
    expect(await state()).toBe('released');
  });

  test('made from a held lot afterwards is held from the start', async () => {
    await hold('26077A');
    const { id } = await packMore({});
    expect(await stops(id)).toEqual(['held-upstream']);
    expect(await state(id)).toBe('held');
  });

  test('held by its own rule and poured back is repacked; the new pack is open', async () => {
    const { id: cold } = await packMore({ fillTemps: '171 F' });
    const { id: again } = await recordOrThrow(season.book, 'pack', {
      fromLots: `${cold}:1 qt`,
      jars: '4',
      packedAt: '2026-03-25T10:00',
    });
    expect(await state(cold)).toBe('held');
    expect(await state(again)).toBe('open');
  });

  test('recalled stays recalled, with every lot made from it; no dispatch of it can be planned', async () => {
    done(await recallLot(season.book, writeContext(), '26077A', 'a jar came back swollen'));
    expect([await state('26077A'), await state()]).toEqual(['recalled', 'recalled']);
    expect(problemOf(await release('26077A')).text).toContain('is recalled, not held');
    expect(problemOf(await holdLot(season.book, writeContext(), pack, 'again')).kind).toBe('refused');
    expect(problemOf(await write(season.book, 'dispatch', { sentAt: '2026-07-01T09:00' })).text).toContain(
      'is recalled',
    );
    expect(problemOf(await findLabelablePack(await judging(), pack)).kind).toBe('refused');
    expect(done(await recallLot(season.book, writeContext(), '26077A', 'again'))).toMatchObject({ outcome: 'same' });
    await recordOrThrow(season.book, 'action', { lot: pack, fillTemps: '190 F' });
    expect(await state()).toBe('recalled');
    const { id } = await packMore({});
    expect(await stops(id)).toEqual(['held-upstream']);
  });

  test('made from a recalled lot is recalled too or destroyed, for its source is not released', async () => {
    done(await recallLot(season.book, writeContext(), '26077A', 'a jar came back swollen'));
    const { id } = await packMore({});
    const { text } = problemOf(await release(id));
    expect(text).toContain('26077A is recalled and can’t be released: recall this one too, or destroy all its jars');
    expect(text).not.toContain('Release the source lot first');
    const destroyed = {
      way: 'destroyed',
      jars: 'all',
      cause: 'its source is recalled',
      found: 'recalled',
      done: 'gone',
    };
    await season.write('action', { lot: id, at: '2026-04-25T10:00', by: 'WE', ...destroyed });
    done(await release(id));
    expect(await state(id)).toBe('released');
  });

  test('is recalled with others in one write: a refusal in the middle leaves none of them recalled', async () => {
    const { id: other } = await packMore({ packedAt: '2026-03-20T11:00' });
    // The second one's key was used before for something else.
    done(await holdLot(season.book, writeContext({ key: `tap:${other}` }), other, 'a lid that did not sit'));
    const before = await readHead(season.book.read);
    const why = 'T1 read 4 degrees too high';
    expect(await recallLots(season.book, writeContext({ key: 'tap' }), [pack, other], why)).toMatchObject({
      problem: { kind: 'key-used' },
    });
    expect(await recallLots(season.book, writeContext(), [pack, '26300A'], why)).toMatchObject({
      problem: { kind: 'unknown' },
    });
    expect([await readHead(season.book.read), await state(), await state(other)]).toEqual([before, 'open', 'held']);

    const { marked } = done(await recallLots(season.book, writeContext({ key: 'again' }), [pack, other], why));
    expect(marked.map((each) => [each.lot, each.outcome])).toEqual([
      [pack, 'new'],
      [other, 'new'],
    ]);
    const both = done(await recallLots(season.book, writeContext({ key: 'again' }), [pack, other], why));
    expect(both.marked.map((each) => each.outcome)).toEqual(['again', 'again']);
    expect([await state(), await state(other)]).toEqual(['recalled', 'recalled']);
    expect((await readHead(season.book.read)).entries).toBe(before.entries + 2);
    for (const code of [pack, other])
      expect((await historyOf(season.reader(), code)).at(-1)).toMatchObject({
        entryType: 'recall',
        why,
      });
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('has actions with a kind; destroyed jars are recorded as a dispatch, and the answer says so', async () => {
    const { id } = await packMore({ fillTemps: '171 F' });
    const destroyed = await recordOrThrow(season.book, 'action', { lot: id, way: 'destroyed', done: 'poured away' });
    expect(destroyed.notes.join()).toContain(`Record the destroyed jars of ${id}`);
    expect(
      (
        await recordOrThrow(season.book, 'action', {
          lot: id,
          way: 'Reheated and repacked',
          fillTemps: '188 F jar 4',
          jars: 'all',
          cause: 'slow-filling',
        })
      ).notes,
    ).toEqual([]);
    expect(problemOf(await write(season.book, 'action', { lot: id, way: 'prayed over' })).text).toContain(
      'one of reheated-and-repacked, poured-back, inspected, filtered-again, relabelled, held-for-test, destroyed, other',
    );
  });

  test('is not held, released or recalled without a reason, nor if it doesn’t exist', async () => {
    for (const entryType of [holdLot, releaseLot, recallLot]) {
      expect(await entryType(season.book, writeContext(), pack, '  ')).toMatchObject({ problem: { kind: 'invalid' } });
      expect(await entryType(season.book, writeContext(), '26300A', 'x')).toMatchObject({
        problem: { kind: 'unknown', code: '26300A' },
      });
    }
    expect(problemOf(await release(pack)).text).toContain('is open, not held');
    const first = await holdLot(season.book, writeContext({ key: 'tap' }), pack, 'x');
    expect(await holdLot(season.book, writeContext({ key: 'tap' }), pack, 'x')).toMatchObject({
      outcome: 'again',
      entry: done(first).entry,
    });
    expect(await holdLot(season.book, writeContext({ key: 'tap' }), pack, 'y')).toMatchObject({
      problem: { kind: 'key-used' },
    });
  });
});
