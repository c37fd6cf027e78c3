import { describe, expect, test } from '@jest/globals';
import { cautionPlaces, cautions } from '#libs/actions/places/cautions.js';
import { checkPlaceFiles, placeFile } from '#libs/actions/places/place-file.js';
import { placeList, placeRules } from '#libs/actions/places/places.js';
import { isRefusal } from '#libs/actions/record/problem.js';
import { baume } from '#libs/syrup/science/corrected.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';

function rules(place?: string): PlaceRules {
  const found = placeRules(place);
  if (isRefusal(found)) throw new Error(`${place} was refused`);
  return found;
}

/** The figures of the trade's table of legal densities; the sources are in each place's file. */
const legal = [
  { place: 'us-standard', least: 66.0, most: 68.9 },
  { place: 'Vermont', least: 66.9, most: 68.9 },
  { place: 'New Hampshire', least: 66.9, most: null },
  { place: 'New York', least: 66.0, most: 68.9 },
  { place: 'Maine', least: 66.0, most: 68.9 },
  { place: 'Ohio', least: 66.0, most: 68.9 },
  { place: 'Canada', least: 66.0, most: 68.9 },
  { place: 'Ontario', least: 66.0, most: null },
  { place: 'Quebec', least: 66.0, most: 68.9 },
  { place: 'Wisconsin', least: 66.0, most: 68.9 },
  { place: 'Connecticut', least: 66.0, most: 68.9 },
  { place: 'Massachusetts', least: 66.0, most: 68.9 },
  { place: 'Michigan', least: 66.0, most: 68.9 },
  { place: 'Pennsylvania', least: 66.0, most: 68.9 },
];

describe('the rules of a place', () => {
  test.each(legal)('$place: $least to $most °Bx', ({ place, least, most }) => {
    const found = rules(place);
    expect(found.minimumBrix.value).toBe(least);
    expect(found.minimumBrix.gates).toBe(place !== 'New Hampshire');
    expect(found.maximumBrix?.gates ? found.maximumBrix.value : null).toBe(most);
  });
  test('are found by id, name or code, in any case, and default to the US standard', () => {
    for (const text of ['vermont', 'Vermont', 'VT', ' vt ', 'V.T.']) expect(rules(text).id).toBe('vermont');
    for (const text of ['New York', 'new-york', 'NY', 'ny']) expect(rules(text).id).toBe('new-york');
    for (const text of ['us', 'USA', 'U.S.', 'us-standard', '', undefined]) expect(rules(text).id).toBe('us-standard');
    for (const text of ['Québec', 'QC', 'quebec']) expect(rules(text).id).toBe('quebec');
    expect(rules('canada').canada).toBe(true);
  });
  test('of a state or province without a file are its country’s standard, and say so', () => {
    expect(rules('Minnesota')).toMatchObject({
      id: 'minnesota',
      name: 'Minnesota',
      country: 'US',
      minimumBrix: { value: 66 },
    });
    expect(rules('MN').fellBack).toContain(
      'Minnesota has no rules of its own in this book, so the US grade standard applies',
    );
    expect(rules('New Brunswick')).toMatchObject({ country: 'CA', canada: true, minimumBrix: { value: 66 } });
    expect(rules('NS').fellBack).toContain('Canadian grade standard');
    expect(rules('Michigan').fellBack).toContain('No density of Michigan’s own was found');
    for (const name of ['Wisconsin', 'Quebec']) expect(rules(name).fellBack).toBeNull();
    expect(rules('Vermont').fellBack).toBeNull();
  });
  test('of an unknown place are refused, and the ambiguous CA is asked about', () => {
    expect(placeRules('Lower Sapwood')).toMatchObject({
      problem: { kind: 'invalid', faults: [{ field: 'place', got: '"Lower Sapwood"' }] },
    });
    expect(placeRules('CA')).toMatchObject({
      problem: { faults: [{ expected: expect.stringContaining('California or Canada') }] },
    });
  });
  test('are listed once each', () => {
    expect(
      placeList()
        .map(({ id }) => id)
        .sort(),
    ).toEqual(
      [
        ...['canada', 'connecticut', 'maine', 'massachusetts', 'michigan', 'new-hampshire', 'new-york', 'ohio'],
        ...['ontario', 'pennsylvania', 'quebec', 'us-standard', 'vermont', 'wisconsin'],
      ].sort(),
    );
  });
  test('have a chart that decides only in Vermont, for its own density; each hottest first', () => {
    for (const { id } of placeList()) {
      const { chart, minimumBrix, standInMinimumBrix } = rules(id);
      expect(chart?.decides).toBe(id === 'vermont');
      const judging = [minimumBrix, standInMinimumBrix].find((limit) => limit?.gates);
      expect(chart?.standardBrix).toBe(judging?.value);
      const degrees = chart!.rows.map((row) => row.fahrenheit);
      expect(degrees).toEqual([...degrees].sort((a, b) => b - a));
    }
  });
  test('New Hampshire’s 66.9, which nobody read, holds nothing until it is confirmed', () => {
    const { minimumBrix, standInMinimumBrix } = rules('NH');
    expect(minimumBrix).toMatchObject({ value: 66.9, gates: false, mark: 'second hand' });
    expect(standInMinimumBrix).toMatchObject({ value: 66, gates: true, source: expect.stringContaining('RSA 146:13') });
  });
  test.each(['brix', 'baume', 'fahrenheit'] as const)(
    'a chart whose %s rises where it must fall is refused',
    (column) => {
      const wrong = structuredClone(rules('vermont')) as unknown as { chart: { rows: Record<string, number>[] } };
      expect(placeFile.safeParse(wrong).success).toBe(true);
      wrong.chart.rows[3]![column] = column === 'fahrenheit' ? 210 : 20;
      expect(placeFile.safeParse(wrong).success).toBe(false);
    },
  );
  test('pair °Bx with the published °Bé', () => {
    for (const { id } of placeList())
      for (const limit of [rules(id).minimumBrix, rules(id).maximumBrix])
        if (limit) expect(Math.abs(baume(limit.value) - limit.baume)).toBeLessThan(0.05);
  });
  test('never hold a lot on a value from memory', () => {
    const wrong = structuredClone(rules('maine')) as { minimumBrix: { mark: string } };
    wrong.minimumBrix.mark = 'memory';
    expect(placeFile.safeParse(wrong).success).toBe(false);
    expect(placeFile.safeParse(rules('maine')).success).toBe(true);
  });
  test('Ontario requires a lot code above 125 mL', () => {
    expect(rules('Ontario').labels.find((label) => label.carries === 'lot-code')).toMatchObject({
      aboveMillilitres: 125,
      mark: 'read',
    });
  });
  test('Ontario requires a grade from 125 mL, Maine for a seal on the cap, Quebec for 60 to 69 °Bx over 5 L', () => {
    expect(rules('Ontario').labels.find((label) => label.carries === 'grade')!.aboveMillilitres).toBeCloseTo(125, 1);
    expect(rules('Maine').labels.find((label) => label.carries === 'cap-seal')).toMatchObject({ mark: 'read' });
    expect(rules('Quebec').bulk).toMatchObject({
      aboveMillilitres: 5000,
      minimumBrix: { value: 60 },
      maximumBrix: { value: 69 },
      lead: { ppb: 250 },
    });
    const { bulk } = rules('Quebec');
    for (const limit of [bulk!.minimumBrix, bulk!.maximumBrix])
      expect(Math.abs(baume(limit.value) - limit.baume)).toBeLessThan(0.05);
  });
  test('and cautions are in valid files, which the server checks when it starts', () => {
    expect(checkPlaceFiles).not.toThrow();
  });
  test('name an authority to ask', () => {
    for (const { id } of placeList()) expect(rules(id).authority.length).toBeGreaterThanOrEqual(3);
  });
});

describe('cautions', () => {
  test('each is used somewhere, with its source, once', () => {
    const ids = cautions().map((caution) => caution.id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const where of cautionPlaces) expect(cautions(where).length).toBeGreaterThan(0);
  });
  test('of the boil cover the pan, burns, fire and carbon monoxide', () => {
    const text = cautions('boil')
      .map((caution) => caution.text)
      .join(' ');
    for (const word of ['Never leave a pan', '219 °F', 'fire', 'carbon monoxide', 'boil over', 'density'])
      expect(text).toContain(word);
  });
});

test.each(['constructor', '__proto__'])('%s is no place, though every object inherits it', (text) => {
  expect(placeRules(text)).toMatchObject({ problem: { kind: 'invalid', faults: [{ field: 'place' }] } });
});
