import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { parseFillFields } from '#libs/syrup/quantities/fill-fields.js';
import { parseFillReading, parseFillReadings } from '#libs/syrup/quantities/fill-readings.js';
import { ordinal, formatTemperature, formatDensity } from '#libs/syrup/quantities/format-quantities.js';
import { parseDensity, parseTemperature } from '#libs/syrup/quantities/quantities.js';

describe('the notation of fill readings', () => {
  test.each([
    ['186 F', { degrees: 186, unit: 'F' }, {}],
    ['184 F@14:10', { degrees: 184, unit: 'F' }, { clock: '14:10' }],
    ['183 F@14:25#T1', { degrees: 183, unit: 'F' }, { clock: '14:25', thermometer: 'T1' }],
    ['85.5°C #T-2', { degrees: 85.5, unit: 'C' }, { thermometer: 'T-2' }],
    [
      '184 F @ 9:05 # T1 jars 9-16',
      { degrees: 184, unit: 'F' },
      { clock: '09:05', thermometer: 'T1', jars: 'jars 9-16' },
    ],
    ['82,5 C tray 2', { degrees: 82.5, unit: 'C' }, { jars: 'tray 2' }],
    ['186F@2026-03-19T14:10', { degrees: 186, unit: 'F' }, { clock: '2026-03-19T14:10' }],
    [
      '186F@2026-03-19T14:10:30-04:00#T1',
      { degrees: 186, unit: 'F' },
      { clock: '2026-03-19T14:10:30-04:00', thermometer: 'T1' },
    ],
  ])('%s', (text, temperature, rest) => {
    const { value } = parseFillReading(text);
    expect(value?.temperature).toMatchObject(temperature);
    expect({ clock: value?.clock, thermometer: value?.thermometer, jars: value?.jars }).toEqual({
      clock: undefined,
      thermometer: undefined,
      jars: undefined,
      ...rest,
    });
  });

  test.each([
    '186',
    '',
    '@14:10',
    '186 F@',
    '186 F@25:00',
    '186 F@14:60',
    '186 F@noon',
    '186 F@2026-02-30T14:10',
    '186 F#',
    '186 F after lunch',
  ])('%p is refused', (text) =>
    expect(parseFillReading(text).mismatch?.expected).toMatch(/^a fill temperature like 184 F/),
  );

  test('a list and text separated by ; or | are the same', () => {
    const texts = ['186 F', '184 F@14:10', '183 F@14:25#T1'];
    const listed = parseFillReadings(texts);
    expect(listed.value?.map(({ temperature }) => temperature.degrees)).toEqual([186, 184, 183]);
    expect(parseFillReadings(texts.join(';'))).toEqual(listed);
    expect(parseFillReadings(texts.join(' | '))).toEqual(listed);
    expect(parseFillReadings('186 F; ;')).toEqual(parseFillReadings('186 F'));
    expect(parseFillReadings('')).toEqual({ value: [] });
  });

  test('a fault names its reading', () => {
    expect(parseFillReadings('186 F;184;83 K;185 F').mismatch).toEqual({
      expected: 'a fill temperature like 184 F, 184 F@14:10 or 184 F@14:10#T1',
      got: '"184" as the second reading, "83 K" as the third reading',
    });
  });
});

test('a reading from a form’s boxes is stored as text that parses to the same reading', () => {
  const texts = fc.record({
    temperature: fc.constantFrom('186 F', '82.5 C', '179,9 F', '85.5°C'),
    clock: fc.constantFrom('', '9:05', '14:10', '2026-03-19T14:10'),
    thermometer: fc.oneof(fc.constant(''), fc.string({ maxLength: 6 })),
    jars: fc.oneof(fc.constantFrom('', '12', '9-16', 'jars 9-16', 'tray 2', 'jar 3 poured back'), fc.string()),
  });
  fc.assert(
    fc.property(texts, (boxes) => {
      const read = parseFillFields(boxes);
      if (read.value) expect(parseFillReadings(read.value.typed)).toEqual({ value: [read.value] });
      else expect(read.faults.every(({ field }) => field === 'thermometer' || field === 'jars')).toBe(true);
    }),
    { numRuns: 2000 },
  );
});

describe('readings on a page are shown as typed, with normal spacing', () => {
  test.each([
    ['186 F', '186 °F'],
    ['186°f', '186 °F'],
    ['82,0c', '82.0 °C'],
    ['-3.5 C', '-3.5 °C'],
  ])('%s is shown as %s', (typed, tidy) => expect(formatTemperature(parseTemperature(typed).value!)).toBe(tidy));

  test.each([
    ['66.9 Bx', '66.9 °Bx'],
    ['36,0be', '36.0 °Bé'],
    ['1.328 SG', 'SG 1.328'],
  ])('%s is shown as %s', (typed, tidy) => expect(formatDensity(parseDensity(typed).value!)).toBe(tidy));

  test('their positions', () => {
    expect([1, 3, 10, 11, 12, 21, 22, 103, 111].map(ordinal).join(' ')).toBe(
      'first third tenth 11th 12th 21st 22nd 103rd 111th',
    );
  });
});
