import { expect, test } from '@jest/globals';
import { cautions } from '#libs/actions/places/cautions.js';
import { placeList, placeRules } from '#libs/actions/places/places.js';
import { mayHold, sourceText, type Sourced } from '#libs/syrup/rules/provenance.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import { rules } from '#libs/syrup/rules/rules.js';

const places = placeList().map(({ id }) => placeRules(id) as PlaceRules);
const limitsOf = (place: PlaceRules) =>
  [
    place.minimumBrix,
    place.standInMinimumBrix,
    place.maximumBrix,
    place.bulk?.minimumBrix,
    place.bulk?.maximumBrix,
  ].filter((limit) => limit !== null && limit !== undefined);

const every: readonly (readonly [string, readonly Sourced[]])[] = [
  ['rules', rules],
  ['cautions', cautions()],
  ['label items', places.flatMap(({ labels }) => labels)],
  ['limits of density', places.flatMap(limitsOf)],
  ['charts', places.flatMap(({ chart }) => chart ?? [])],
  ['limits of lead', places.flatMap(({ lead, bulk }) => [lead ?? [], bulk?.lead ?? []].flat())],
  ['lists of allergens', places.flatMap(({ allergens }) => allergens ?? [])],
  ['points of what applies', places.flatMap(({ applies }) => applies ?? [])],
];

test.each(every)('all %s have a citation and a provenance, and a date where the source was read', (_, all) => {
  expect(all.length).toBeGreaterThan(3);
  const undated = all.filter(
    ({ source, mark, readOn }) =>
      source.length < 3 ||
      !!readOn !== (mark === 'read' || mark === 'second hand') ||
      sourceText({ source, mark }) === '',
  );
  expect(undated).toEqual([]);
});

test('nothing from memory holds a lot, and what holds by a secondary source or by custom says so', () => {
  const stops = rules.filter(({ kind }) => kind === 'stop');
  expect(stops.length).toBeGreaterThan(20);
  expect(stops.filter(({ mark }) => !mayHold(mark))).toEqual([]);
  expect(places.flatMap(limitsOf).filter(({ gates, mark }) => gates && !mayHold(mark))).toEqual([]);
  expect(places.filter(({ lead, allergens }) => lead?.mark === 'memory' || allergens?.mark === 'memory')).toEqual([]);
  for (const holding of [...stops, ...places.flatMap(limitsOf)].filter(({ mark }) => mark === 'second hand'))
    expect(sourceText(holding)).toContain('secondary source');
  for (const holding of stops.filter(({ mark }) => mark === 'practice'))
    expect(sourceText(holding)).toContain('common practice, no source');
});

test('how a source was seen is printed once, in words', () => {
  expect(sourceText({ source: '7 M.R.S. § 893', mark: 'read', readOn: '2026' })).toBe(
    '7 M.R.S. § 893 (read in the source, 2026)',
  );
  expect(sourceText({ source: 'common practice, no source', mark: 'practice', readOn: null })).toBe(
    'common practice, no source',
  );
});

test('no place cites the regulations that exempt food, nor those of the trade commission', () => {
  const formatted = JSON.stringify(places);
  expect(formatted).not.toMatch(/Consumer Packaging|16 CFR 500/);
  expect(formatted.match(/Safe Food for Canadians Regulations/g)!.length).toBeGreaterThan(15);
});
