import { describe, expect, test } from '@jest/globals';
import { type JarAction, judgeAction, jarsOfActionHeldBy, takesOffSale } from '#libs/syrup/jars/judge-action.js';
import { type JarSpan, mergeSpans, formatSpans, parseJarSpans } from '#libs/syrup/jars/jar-spans.js';
import { afterDestroying, jarsOnSale } from '#libs/syrup/jars/jars-on-sale.js';
import { judgeReadings, type JudgedReading } from '#libs/syrup/rules/judge-reading.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import { fills } from '../support/pack-facts.js';

describe('Jars of a corrective action', () => {
  const passes = ({ outcome }: JudgedReading): boolean => outcome === 'hot enough';
  const cleared = (jars: string, readings: string, more: Partial<JarAction> = {}, reach?: number): string => {
    const action: JarAction = {
      how: 'packed-again',
      jars: parseJarSpans(jars).value!.spans,
      fills: fills(readings),
      ...more,
    };
    const spans = mergeSpans(judgeAction(action, [], passes, reach).cleared);
    return spans.length === 0 ? 'none' : formatSpans(spans);
  };
  test('are cleared by readings back to the one before, at most twelve jars or the house’s interval', () => {
    expect(cleared('9-31', '188 F jar 20;188 F jar 31')).toBe('jars 9–31');
    expect(cleared('9-31', '188 F jar 31')).toBe('jars 20–31');
    expect(cleared('9-31', '188 F jar 31', {}, 5)).toBe('jars 27–31');
    expect(cleared('9-31', '188 F jar 31;188 F jar 20')).toBe('jars 9–31');
    expect(cleared('9-12', '188 F jar 9')).toBe('jar 9');
    expect(cleared('9-12', '188 F jar 12')).toBe('jars 9–12');
    expect(cleared('9-12 and 20-22', '188 F jar 12;188 F jar 22')).toBe('jars 9–12 and 20–22');
  });
  test('are not cleared by readings of other jars, or of ranges that reach beyond them', () => {
    expect(cleared('9-12', '188 F jar 13')).toBe('none');
    expect(cleared('9-12', '188 F jar 8')).toBe('none');
    expect(cleared('9-12', '188 F jars 8-12')).toBe('none');
    expect(cleared('9-12', '188 F jars 12-13')).toBe('none');
    expect(cleared('9-12', '188 F jars 9-12')).toBe('jars 9–12');
  });
  test('are cleared except for those that a cold reading among them holds', () => {
    expect(cleared('9-31', '188 F jar 12;178 F jar 20;187 F jar 31')).toBe('jars 9–12 and 31');
    expect(cleared('9-12', '178 F jar 12')).toBe('none');
    expect(cleared('9-12', '188 F jar 12;178 F')).toBe('none');
  });
  test('are cleared by readings without numbers only if there is one passing reading for each', () => {
    expect(cleared('9-11', '188 F;187 F;186 F')).toBe('jars 9–11');
    expect(cleared('9-11', '188 F;187 F')).toBe('none');
    expect(cleared('9-11', '188 F;187 F;186 F;185 F')).toBe('none');
    expect(cleared('9-11', '188 F;187 F;178 F')).toBe('none');
    expect(cleared('9', '188 F')).toBe('jar 9');
    expect(cleared('9-11', '188 F;187 F jar 10;186 F')).toBe('jars 9–10');
    expect(judgeAction({ how: 'packed-again', jars: [], fills: [] }, [], passes).cleared).toEqual([]);
  });
  test('are cleared only by packing them again, with jars and cause recorded', () => {
    for (const how of ['poured-back', 'destroyed', 'inspected'] as const)
      expect(cleared('9-12', '188 F jar 12', { how })).toBe('none');
    expect(cleared('9-12', '188 F jar 12', { clearsNothing: true })).toBe('none');
    expect(cleared('9-12', '188 F jar 12;188 F jar 12 poured back')).toBe('none');
  });
  test('are off sale once poured back or destroyed, and only then', () => {
    const off = (how: JarAction['how'], clearsNothing = false) =>
      takesOffSale({ how, jars: [], fills: [], clearsNothing });
    expect([off('poured-back'), off('destroyed'), off('inspected'), off('packed-again')]).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect([off('poured-back', true), off('destroyed', true)]).toEqual([false, false]);
  });
  test('beside a cold reading of the action are held, and all if it names none', () => {
    const jars = [{ from: 9, to: 31 }];
    const [cold, none, hot] = judgeReadings(fills('178 F jar 20;178 F;188 F jar 12'));
    expect(jarsOfActionHeldBy(cold!, [hot!], jars)).toEqual([{ from: 13, to: 31 }]);
    expect(jarsOfActionHeldBy(none!, [hot!], jars)).toEqual(jars);
  });
});

describe('Held jars after some are off sale', () => {
  const finding = (more: Partial<Finding>): Finding => ({
    rule: 'fill-temperature',
    stop: true,
    limit: '',
    found: '',
    source: '',
    ...more,
  });
  const poured: JarAction = { how: 'poured-back', jars: [], fills: [], by: 'JP', at: '2026-03-20T14:00:00-04:00' };
  const left = (findings: readonly Finding[], gone: readonly JarSpan[], jars: number | null = 32) =>
    jarsOnSale(findings, {
      gone,
      jars,
      actions: [{ ...poured, by: 'OE' }, poured, { ...poured, how: 'inspected', by: 'WE' }],
    });
  test('are those that are left, and none if none is left', () => {
    const some = finding({ jars: [{ from: 9, to: 16 }] });
    expect(left([some], [{ from: 9, to: 12 }])).toEqual([{ ...some, jars: [{ from: 13, to: 16 }] }]);
    expect(left([some], [{ from: 9, to: 15 }])).toEqual([{ ...some, jars: [{ from: 16, to: 16 }] }]);
    expect(left([some], [{ from: 9, to: 16 }])).toEqual([]);
    expect(left([some], [])).toEqual([some]);
    expect(left([some], [{ from: 9, to: 16 }], null)).toEqual([some]);
  });
  test('are all of them under a hold of the whole pack until the last is off sale; then the finding says who removed them', () => {
    const whole = finding({ rule: 'density-not-read' });
    expect(left([whole], [{ from: 1, to: 31 }])).toEqual([whole]);
    expect(left([whole], [{ from: 2, to: 32 }])).toEqual([whole]);
    expect(left([whole], [{ from: 1, to: 32 }])).toMatchObject([
      { stop: false, offSale: { how: 'poured-back-or-destroyed', by: 'JP', at: '2026-03-20T14:00:00-04:00' } },
    ]);
  });
  test('stay held for mould and glass, which stay in the syrup; advisories are unchanged', () => {
    for (const rule of ['mould', 'mould-looked-at', 'spoilage-question', 'held-upstream', 'broken-glass']) {
      const goesOn = finding({ rule, jars: [{ from: 1, to: 2 }] });
      expect(left([goesOn], [{ from: 1, to: 32 }])).toEqual([goesOn]);
    }
    const advice = finding({ stop: false, jars: [{ from: 1, to: 2 }] });
    expect(left([advice], [{ from: 1, to: 32 }])).toEqual([advice]);
  });
});

describe('The hold after jars were destroyed', () => {
  const finding = (more: Partial<Finding>): Finding => ({
    rule: 'mould',
    stop: true,
    limit: '',
    found: '',
    source: '',
    ...more,
  });
  const advice = finding({ rule: 'jars-not-covered', stop: false });
  const destroyed = (from: number, to: number, more: Partial<JarAction> = {}): JarAction => ({
    ...{ how: 'destroyed', jars: [{ from, to }], fills: [], by: 'OE', at: '2026-03-21T09:00:00-04:00' },
    ...more,
  });
  const offSale = { how: 'destroyed', by: 'OE', at: '2026-03-21T09:00:00-04:00' };
  const after = (jars: number | null, ...actions: JarAction[]) =>
    afterDestroying([finding({}), advice], { jars, actions });

  test('ends if all of them were, by one action or by several', () => {
    for (const actions of [[destroyed(1, 32)], [destroyed(1, 16), destroyed(17, 32)], [destroyed(1, 40)]])
      expect(after(32, ...actions)).toEqual([{ ...finding({}), stop: false, offSale }, advice]);
    expect(after(1, destroyed(1, 1))).toMatchObject([{ stop: false }, advice]);
  });

  test('stays if one jar is left or was not destroyed', () => {
    const left = [finding({}), advice];
    expect(after(32, destroyed(1, 31))).toEqual(left);
    expect(after(32, destroyed(2, 32))).toEqual(left);
    expect(after(32, destroyed(1, 32, { how: 'poured-back' }))).toEqual(left);
    expect(after(32, destroyed(1, 32, { how: 'inspected' }))).toEqual(left);
    expect(after(32, destroyed(1, 32, { clearsNothing: true }))).toEqual(left);
    expect(after(32, destroyed(1, 16), destroyed(17, 32, { how: 'poured-back' }))).toEqual(left);
    expect(after(null, destroyed(1, 32))).toEqual(left);
    expect(after(32)).toEqual(left);
  });

  test('stays for mould, which would go on in syrup that was poured back', () => {
    const gone = [{ from: 1, to: 32 }];
    const onSale = (...actions: JarAction[]) => jarsOnSale([finding({}), advice], { gone, jars: 32, actions });
    expect(onSale(destroyed(1, 32))).toEqual([{ ...finding({}), stop: false, offSale }, advice]);
    expect(onSale(destroyed(1, 32, { how: 'poured-back' }))).toEqual([finding({}), advice]);
    expect(onSale(destroyed(1, 31), destroyed(32, 32, { how: 'poured-back' }))).toEqual([finding({}), advice]);
  });

  test('ends without initials if nobody is named', () => {
    const { by: _by, at: _at, ...unsigned } = destroyed(1, 32);
    expect(after(32, unsigned)[0]?.offSale).toEqual({ how: 'destroyed' });
  });
});
