import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { nearestMoment, yearAndDayOf, isZone, momentIn, parseDay, parseMoment } from '#libs/actions/record/times.js';

const home = 'America/New_York';
const read = (text: string, zone = home): string =>
  parseMoment(text, zone).value ?? `not: ${parseMoment(text, zone).mismatch?.expected}`;

// Clock changes of 2026 in the United States: forward on 8 March, back on 1 November, at 2:00 (IANA time zone
// database).
describe('A moment', () => {
  test.each([
    ['2026-03-19T14:10', '2026-03-19T14:10:00-04:00'],
    ['2026-03-19 14:10', '2026-03-19T14:10:00-04:00'],
    ['2026-03-19', '2026-03-19T00:00:00-04:00'],
    [' 2026-03-07T09:05:30 ', '2026-03-07T09:05:30-05:00'],
    ['2026-03-19T9:05', '2026-03-19T09:05:00-04:00'],
    ['2026-03-19T18:10Z', '2026-03-19T18:10:00+00:00'],
    ['2026-03-19T18:10+01:00', '2026-03-19T18:10:00+01:00'],
    ['2026-03-19T18:10+0100', '2026-03-19T18:10:00+01:00'],
    ['2028-02-29T12:00', '2028-02-29T12:00:00-05:00'],
  ])('written as %j is %s', (text, moment) => expect(read(text)).toBe(moment));

  test.each([
    '',
    'yesterday',
    '19.3.2026',
    '2026-3-19',
    '2026-02-29',
    '2026-13-01',
    '2026-03-19T25:00',
    '2026-03-19T12:60',
    '2026-03-19T12',
    '1999-12-31',
    '2100-01-01',
    '2026-03-19T12:00 EST',
  ])('can’t be written as %j', (text) => {
    const { mismatch } = parseMoment(text, home);
    expect(mismatch?.expected).toMatch(/^a date and time like 2026-03-19T14:10/);
    expect(mismatch?.got).toBe(text === '' ? 'nothing' : `"${text}"`);
  });

  test('that the clocks skipped is a fault that says so; times around it are valid', () => {
    for (const skipped of ['2026-03-08T02:00', '2026-03-08T02:30', '2026-03-08T02:59:59'])
      expect(read(skipped)).toContain('clocks in America/New_York went forward that night and skipped it');
    expect(read('2026-03-08T01:59')).toBe('2026-03-08T01:59:00-05:00');
    expect(read('2026-03-08T03:00')).toBe('2026-03-08T03:00:00-04:00');
    expect(read('2026-03-08T02:30-05:00')).toBe('2026-03-08T02:30:00-05:00');
  });

  test('that occurs twice needs its offset, and the fault names both', () => {
    expect(read('2026-11-01T01:30')).toContain('2026-11-01T01:30:00-04:00 or 2026-11-01T01:30:00-05:00');
    expect(read('2026-11-01T01:30-04:00')).toBe('2026-11-01T01:30:00-04:00');
    expect(read('2026-11-01T01:30-05:00')).toBe('2026-11-01T01:30:00-05:00');
    expect(read('2026-11-01T00:59')).toBe('2026-11-01T00:59:00-04:00');
    expect(read('2026-11-01T02:00')).toBe('2026-11-01T02:00:00-05:00');
  });

  test('and another differ by elapsed time: 20:00 to 08:00 across the change in March is 11 h', () => {
    const hours = (from: string, to: string): number => (Date.parse(read(to)) - Date.parse(read(from))) / 3_600_000;
    expect(hours('2026-03-07T20:00', '2026-03-08T08:00')).toBe(11);
    expect(hours('2026-03-08T20:00', '2026-03-09T08:00')).toBe(12);
    expect(hours('2026-10-31T20:00', '2026-11-01T08:00')).toBe(13);
  });

  test('formatted as local time in a zone is the same moment when parsed', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date('2001-01-02'), max: new Date('2098-12-30'), noInvalidDate: true }),
        fc.constantFrom(home, 'UTC', 'America/St_Johns', 'America/Edmonton', 'Europe/Berlin'),
        (date, zone) => {
          const written = momentIn(zone, date);
          expect(Date.parse(written)).toBe(Math.floor(date.getTime() / 1000) * 1000);
          expect(read(written, zone)).toBe(written.replace(/Z$/, '+00:00'));
        },
      ),
    );
  });

  test('belongs to the date it was written with', () => {
    expect(yearAndDayOf('2026-03-18T23:59:00-04:00')).toEqual({ year: 2026, dayOfYear: 77 });
    expect(yearAndDayOf('2028-12-31T00:00:00Z')).toEqual({ year: 2028, dayOfYear: 366 });
  });

  test('after midnight of the same evening belongs to the next day', () => {
    expect(nearestMoment('00:40', '2026-03-18T23:30:00-04:00', home)).toBe('2026-03-19T00:40:00-04:00');
    expect(nearestMoment('23:50', '2026-03-19T00:10:00-04:00', home)).toBe('2026-03-18T23:50:00-04:00');
    expect(nearestMoment('02:30', '2026-03-08T03:10:00-04:00', home)).not.toBe('2026-03-08T02:30:00-05:00');
  });
});

test('A day must be a calendar date', () => {
  expect(parseDay('2026-03-19').value).toBe('2026-03-19');
  for (const text of ['', '2026-02-30', '19 March', '2026-03-19T10:00'])
    expect(parseDay(text).mismatch?.expected).toContain('a date like 2026-03-19');
});

test('A zone must be an IANA name', () => {
  expect([home, 'UTC', 'America/Toronto'].map(isZone)).toEqual([true, true, true]);
  expect(['Harrow Notch', '', 'America/'].map(isZone)).toEqual([false, false, false]);
});
