import { describe, expect, test } from '@jest/globals';
import { parseCheckInterval } from '#libs/syrup/quantities/check-interval.js';
import { formatSpans, overlapsSpans } from '#libs/syrup/jars/jar-spans.js';
import { withReadingTimes } from '#libs/syrup/quantities/reading-time.js';
import { fills, found, judged, spoke } from '../support/pack-facts.js';

/** The held jars in words; `all` for the whole pack, `none` for no jar. */
const held = (readings: string, jars: number): string => {
  const verdict = judged({ fills: fills(readings), jars, drawnMl: null });
  if (!verdict.findings.some(({ stop }) => stop)) return 'none';
  return verdict.heldJars ? formatSpans(verdict.heldJars) : 'all';
};

describe('a low fill reading holds', () => {
  test('the jars from the last passing reading to the next', () => {
    expect(held('186 F@10:00 jars 1-8;179 F@10:10 jars 13-16;184 F@10:20 jars 25-32', 32)).toBe('jars 9–24');
    expect(held('186 F jar 8;179 F jar 16;184 F jar 32', 32)).toBe('jars 9–31');
  });
  test('the jars from the first, or to the last, if there is no passing reading on that side', () => {
    expect(held('178 F jars 1-4;186 F jars 9-16', 16)).toBe('jars 1–8');
    expect(held('186 F jars 1-8;178 F jar 12', 16)).toBe('jars 9–16');
  });
  test('the whole pack if it names no jars, or only a tray or a time', () => {
    expect(held('186 F jars 1-8;179 F;184 F jars 17-24', 24)).toBe('all');
    expect(held('186 F jars 1-8;179 F tray 2;184 F jars 17-24', 24)).toBe('all');
    expect(held('186 F@10:00;179 F@10:10;184 F@10:20', 24)).toBe('all');
  });
  test('the jars beyond a reading without jar numbers, since that one covers only its own jar', () => {
    expect(held('186 F;179 F jars 9-16;184 F jars 17-24', 24)).toBe('jars 1–16');
    expect(held('186 F jars 1-8;179 F jar 12;185 F;184 F jars 17-24', 24)).toBe('jars 9–16');
  });
  test('one range if two low ones follow each other', () => {
    expect(held('186 F jars 1-4;179 F jars 5-8;178 F jars 9-12;186 F jars 13-16', 16)).toBe('jars 5–12');
  });
  test('its own jar even if it was read again, or a later reading covers it', () => {
    expect(held('186 F jar 12;178 F jar 16;185 F jar 16;186 F jar 24', 24)).toBe('jars 13–23');
    expect(held('186 F jar 12;178 F jar 16;185 F jars 13-24', 24)).toBe('jars 13–23');
  });
  test('jars and says what to do, the least work first', () => {
    expect(judged({ fills: fills('186 F jar 12;178 F jar 18'), jars: 18, drawnMl: null }).findings[0]).toMatchObject({
      rule: 'fill-temperature',
      wayOut: expect.stringMatching(/^Pour back jars 13–18 \(about 20 min\), or pack them again hot/),
    });
  });
});

describe('jars poured back and filled again at once', () => {
  const caught = '186 F@14:00 jar 12;178 F@14:10#T1 jars 13-16;178 F@14:10#T1 jars 13-16 poured back';
  test('hold nothing once a later reading passes', () => {
    expect(held(`${caught};185 F@14:18#T1 jar 24`, 24)).toBe('none');
    expect(held(`${caught};185 F@14:18#T1 jars 13-24`, 24)).toBe('none');
    expect(spoke({ fills: fills(caught), jars: null, density: undefined })).toEqual([]);
  });
  test('are held as not read again if no later reading covers them', () => {
    expect(held(caught, 16)).toBe('jars 13–16');
    expect(found('fill-not-read', { fills: fills(caught), jars: 16, drawnMl: null }).found).toBe(
      'jars 13–16 poured back and filled again, and no jar read after that',
    );
    expect(held(`186 F@14:00 jar 12;178 F jar 16;185 F jar 20;178 F jar 16 poured back`, 20)).toBe('jars 13–16');
    expect(held(caught, 12)).toBe('none');
  });
  test('are held from the first jar if there was no earlier reading, ignoring one of the same jar', () => {
    expect(held('178 F jar 4;178 F jar 4 poured back', 8)).toBe('jars 1–4');
    expect(held('186 F jar 2;186 F jar 4;178 F jar 4;178 F jar 4 poured back', 8)).toBe('jars 3–4');
  });
  test('are the whole pack for a reading with neither jars nor a time, and need any later reading', () => {
    expect(held('178 F;178 F poured back', 12)).toBe('all');
    expect(held('178 F;178 F poured back;186 F', 12)).toBe('none');
  });
  test('are one entry from paper, which cancels only the equal reading', () => {
    expect(held('178 F jar 6 poured back;186 F jar 12', 12)).toBe('none');
    expect(held('178 F jar 6;178 F jar 6;178 F jar 6 poured back;186 F jar 12', 12)).toBe('jars 1–11');
    expect(held('177 F jar 6;178 F jar 6 poured back;186 F jar 12', 12)).toBe('jars 1–11');
  });
  test('leave texts and order of the readings unchanged', () => {
    const readings = { fills: fills('178 F jar 6;178 F jar 6 poured back;179 F jar 12;186 F jar 24'), jars: 24 };
    expect(found('fill-temperature', { ...readings, drawnMl: null }).found).toBe(
      '179 °F, the second of 3 readings, jar 12',
    );
  });
});

describe('jars that no reading covers', () => {
  const interval = parseCheckInterval('12 jars or 15 min').value!;
  const gaps = (readings: string, jars: number, more = {}) =>
    judged({
      fills: withReadingTimes(fills(readings), '2026-03-19T10:00-04:00'),
      jars,
      drawnMl: null,
      interval,
      ...more,
    });
  const formatted = (readings: string, jars: number): string | undefined =>
    gaps(readings, jars).findings.find(({ rule }) => rule === 'jars-not-covered')?.found;

  test('are listed; beyond the house’s interval one advisory says so', () => {
    expect(gaps('186 F jar 12;185 F jar 24', 30).uncovered).toEqual([{ from: 25, to: 30 }]);
    expect(formatted('186 F jar 12;185 F jar 24', 30)).toBeUndefined();
    expect(formatted('186 F jar 12;185 F jar 40', 60)).toBe('one reading for jars 13–40; no reading for jars 41–60');
    expect(gaps('186 F jar 12;185 F jar 24', 24).uncovered).toBeUndefined();
  });
  test('are judged, if readings have no numbers, by the clock or by the number of readings', () => {
    expect(formatted('186 F@10:00;185 F@10:15;184 F@10:45', 48)).toBe('no reading for 30 min, from 10:15 to 10:45');
    expect(formatted('186 F@10:00;185 F@10:15', 48)).toBeUndefined();
    expect(formatted('186 F;185 F', 48)).toBe('2 readings for 48 jars, and no jar numbers');
    expect(formatted('186 F;185 F', 24)).toBeUndefined();
    expect(gaps('186 F;185 F', 24).uncovered).toEqual([{ from: 1, to: 24 }]);
  });
  test('hold only if the house chose that', () => {
    const verdict = gaps('186 F jar 12;185 F jar 40', 40, { gapsHold: true });
    expect(verdict.findings.map(({ rule }) => rule)).toEqual(['readings-too-far-apart']);
    expect(verdict.heldJars).toEqual([{ from: 13, to: 40 }]);
  });
});

test('jars at the ends of a range are in it', () => {
  expect(overlapsSpans([{ from: 9, to: 24 }], { from: 24, to: 30 })).toBe(true);
  expect(overlapsSpans([{ from: 9, to: 24 }], { from: 25, to: 30 })).toBe(false);
});
