import { expect, test } from '@jest/globals';
import { gatheringFields } from '#libs/actions/kinds/gathering.js';
import { packFields } from '#libs/actions/kinds/pack.js';
import { boilUnderwayFields } from '#libs/actions/kinds/boil.js';
import { noJars, type JarBalance } from '#libs/store/queries/jar-balance.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { NumberedEntry, RecordRow } from '#libs/records/entry.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { fieldViews } from '../../apps/server/forms/field-view.js';
import { firstReceived } from '../../apps/server/forms/first-received.js';
import { postedFields } from '../../apps/server/forms/posted-fields.js';
import { withUnit } from '../../apps/server/forms/with-unit.js';
import { volumeText } from '#libs/format/format-house-volume.js';
import { historyLinesOf } from '../../apps/server/text/history.js';
import { packSentence, restSentence } from '../../apps/server/text/lot-sentence.js';
import { elapsed, momentText } from '../../apps/server/text/times.js';

const now = new Date('2026-03-19T18:10:00Z');
const options = { zone: 'America/New_York', now, volumes: { bareGallons: 'US' } } as const;
const measures = { temperatures: 'F', volumes: 'gal', canada: false } as const;

test('a bare number gets the unit chosen beside it; a unit typed in the box takes precedence', () => {
  expect(withUnit('186', 'F')).toBe('186 F');
  expect(withUnit('179,9', 'F')).toBe('179,9 F');
  expect(withUnit('85.5 C', 'F')).toBe('85.5 C');
  expect(withUnit('186°', 'F')).toBe('186°');
  expect(withUnit('10', 'imp gal')).toBe('10 imp gal');
  expect(withUnit('1.328', 'SG')).toBe('1.328 SG');
});

test('a unit beside an empty box is no reading: the field stays blank', () => {
  const posted = {
    volume: '120',
    'volume~unit': 'gal',
    'sugar~unit': 'Bx',
    sugar: '',
    source: ' North slope ',
    'temperature~unit': 'F',
    temperature: '',
  };
  expect(postedFields(gatheringFields, posted, options)).toEqual({ volume: '120 gal', source: 'North slope' });
});

test('"20 minutes ago" is that moment in the house’s zone; a time typed beside it takes precedence', () => {
  const at = (posted: Record<string, string>) =>
    postedFields({ gatheredAt: gatheringFields.gatheredAt }, posted, options)['gatheredAt'];
  expect(at({ 'gatheredAt~ago': 'now' })).toBe('2026-03-19T14:10:00-04:00');
  expect(at({ 'gatheredAt~ago': '20' })).toBe('2026-03-19T13:50:00-04:00');
  expect(at({ 'gatheredAt~ago': 'now', gatheredAt: '2026-03-18T07:30' })).toBe('2026-03-18T07:30');
  expect(at({ 'gatheredAt~ago': 'other' })).toBeUndefined();
  expect(at({ 'gatheredAt~ago': '-5' })).toBe('-5');
});

test('the same form received twice has one moment, so that the second is recognised as a repeat', () => {
  const form = { practice: false, sugarhouse: 'home', author: 'JP', token: 'person:a' };
  const first = firstReceived(form, now);
  const later = new Date(now.getTime() + 90_000);
  expect(firstReceived({ ...form }, later)).toBe(first);
  for (const other of [{ token: 'person:b' }, { author: 'WE' }, { sugarhouse: 'north' }, { practice: true }])
    expect([other, firstReceived({ ...form, ...other }, later)]).toEqual([other, later]);
});

test('ticked lots become portions, with the amount where one was given, followed by lots typed by their code', () => {
  const posted = {
    gatherings: ['G041'],
    'gatherings~of~G041': '',
    'gatherings~of~G042': '40',
    'gatherings~of~G043': '',
    'gatherings~unit': 'gal',
    'gatherings~more': 'R003:10 gal; G050',
  };
  const { gatherings } = postedFields({ gatherings: boilUnderwayFields.gatherings }, posted, options);
  expect(gatherings).toMatchObject({
    typed: 'G041;G042:40 gal;R003:10 gal;G050',
    result: {
      value: [
        { lot: 'G041' },
        { lot: 'G042', volume: { amount: 40, unit: 'gal' } },
        { lot: 'R003', volume: { amount: 10, unit: 'gal' } },
        { lot: 'G050' },
      ],
    },
  });
});

test('readings copied one per line need no unit on every line', () => {
  const posted = { fillTemps: '188@10:10\r\n 186 F @10:25#T1\n\n85.5 C\n184 jars 9-16', 'fillTemps~unit': 'F' };
  expect(postedFields({ fillTemps: packFields.fillTemps }, posted, options)['fillTemps']).toBe(
    '188 F@10:10;186 F @10:25#T1;85.5 C;184 F jars 9-16',
  );
});

test('no field of a form is filled before somebody typed in it, in no house', () => {
  for (const canada of [true, false])
    for (const view of fieldViews(packFields, { measures: { ...measures, canada } })) {
      expect(view.typed).toBe('');
      expect(view.choices.some((choice) => choice.chosen)).toBe(false);
      expect(view.portions).toEqual([]);
    }
});

test('the house’s own unit is first; a Canadian book offers no bare gallon', () => {
  const units = (house: Parameters<typeof fieldViews>[1]['measures']) =>
    fieldViews(gatheringFields, { measures: house, names: ['volume'] })[0]?.units.map((unit) => unit.value) ?? [];
  expect(units(measures)[0]).toBe('gal');
  expect(units({ ...measures, volumes: 'L' })[0]).toBe('L');
  expect(units({ temperatures: 'C', volumes: 'L', canada: true })).toEqual([
    'L',
    'mL',
    'imp gal',
    'imp qt',
    'US gal',
    'US qt',
  ]);
});

test('a fault is shown at its field, and what was typed stays', () => {
  const [view] = fieldViews(gatheringFields, {
    measures,
    names: ['volume'],
    posted: { volume: 'lots', 'volume~unit': 'L' },
    faults: [{ field: 'volume', expected: 'a volume like 12.5 gal', got: '"lots"' }],
  });
  expect(view?.typed).toBe('lots');
  expect(view?.fault).toBe('Enter a volume like 12.5 gal (typed: "lots")');
  expect(view?.units.find((unit) => unit.chosen)?.value).toBe('L');
});

test('a rest shows when it is long enough, in elapsed hours across the change of the clocks', () => {
  expect(restSentence('2026-03-18T20:10:00-04:00', '2026-03-18T21:00:00-04:00')).toBe(
    'Resting since 20:10, 12 h at 08:10.',
  );
  expect(restSentence('2026-03-18T20:10:00-04:00', '2026-03-19T09:10:00-04:00')).toBe(
    'Rested since yesterday 20:10, 13 h. Ready to pack.',
  );
  // 20:00 to 08:00 over the March change is 11 h.
  expect(elapsed('2026-03-07T20:00:00-05:00', '2026-03-08T08:00:00-04:00')).toBe('11 h');
  expect(momentText('2026-03-17T09:00:00-04:00', '2026-03-19T14:10:00-04:00')).toBe('17 Mar 09:00');
});

test('a held lot shows how many jars are on hand, and what became of the others', () => {
  const pack = { fillTemps: [], packedAt: '2026-03-18T10:00:00-04:00' } as unknown as PackBody;
  const result = (made: number, onHand: number, parts: Partial<JarBalance['parts']>, unaccounted = 0): string => {
    const sentOut = (parts.sale ?? 0) + (parts.gift ?? 0);
    const balance = { ...noJars, made, onHand, sentOut, unaccounted, parts: { ...noJars.parts, ...parts } };
    return packSentence({ state: 'held', jars: made } as Lot, pack, balance, '2026-03-19T14:10:00-04:00');
  };
  expect(result(42, 42, {})).toBe('42 jars wait. No hold rule applies any more: a maker can release it.');
  expect(result(42, 0, { destroyed: 40, broken: 2 })).toBe('Held. None of 42 jars is on hand: 40 destroyed, 2 broken.');
  expect(result(12, 1, { gift: 8 }, 3)).toBe(
    '1 jar waits, of 12: 8 sent out, 3 not accounted for. No hold rule applies any more: a maker can release it.',
  );
});

test('a calculated volume is shown in the house’s unit', () => {
  expect(volumeText(3785.411784 * 12.5, 'gal')).toBe('12.5 gal');
  expect(volumeText(946.352946 * 3, 'gal')).toBe('3 qt');
  expect(volumeText(3785.411784, 'gal', true)).toBe('1 US gal');
  expect(volumeText(40_000, 'L')).toBe('40 L');
  expect(volumeText(250, 'L')).toBe('250 mL');
});

test('a corrected reading is struck through, with the new one above it; a late entry shows how late', () => {
  const entry = (
    seq: number,
    entryType: 'record' | 'correct',
    typed: Record<string, string>,
    typedAt: string,
  ): NumberedEntry => ({
    format: 1,
    seq,
    sugarhouse: 'home',
    entryType,
    by: 'WE',
    happenedAt: '2026-03-18T14:05:00-04:00',
    typedAt,
    author: 'WE',
    key: String(seq),
    sent: '',
    about: ['26077A'],
    record: { kind: 'draw', id: 'D07', lot: '26077A', typed, body: {} } as unknown as RecordRow,
    ...(entryType === 'correct' ? { corrects: 1, why: 'wrong line' } : {}),
  });
  const lines = historyLinesOf(
    [
      entry(1, 'record', { id: 'D07', volume: '3 qt', temp: '218 F' }, '2026-03-19T14:05:00-04:00'),
      entry(2, 'correct', { id: 'D07', volume: '3 qt', temp: '217.8 F' }, '2026-03-19T14:06:00-04:00'),
    ],
    '2026-03-19T15:00:00-04:00',
  );
  expect(lines[0]?.late).toBe('24 h');
  expect(lines[0]?.readings).toContainEqual({ label: 'Temperature', typed: '218 F', now: '217.8 F' });
  expect(lines[1]?.changes).toEqual([{ label: 'Temperature', was: '218 F', now: '217.8 F' }]);
  expect(lines[1]?.why).toBe('wrong line');
});
