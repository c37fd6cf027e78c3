import { describe, expect, test } from '@jest/globals';
import { parseFillReadings } from '#libs/syrup/fill-readings.js';
import { heldJars, touches } from '#libs/syrup/held-jars.js';

const held = (readings: string, jarsMade: number) => {
  const fills = parseFillReadings(readings).value ?? [];
  return heldJars(
    fills,
    fills.map((fill) => fill.temperature.degrees < 180),
    jarsMade,
  );
};

describe('a low fill reading holds', () => {
  test('the jars between the good readings around it', () => {
    expect(held('186 F@10:00 jars 1-8;179 F@10:10 jars 13-16;184 F@10:20 jars 25-32', 32)).toEqual([
      { from: 9, to: 24 },
    ]);
  });
  test('from the first jar, or to the last, where no good reading stands on that side', () => {
    expect(held('178 F jars 1-4;186 F jars 9-16', 16)).toEqual([{ from: 1, to: 8 }]);
    expect(held('186 F jars 1-8;178 F jar 12', 16)).toEqual([{ from: 9, to: 16 }]);
  });
  test('the whole pack where a reading concerned does not number its jars', () => {
    expect(held('186 F;179 F jars 9-16;184 F jars 17-24', 24)).toBeNull();
    expect(held('186 F jars 1-8;179 F tray 2;184 F jars 17-24', 24)).toBeNull();
  });
  test('one stretch where two low ones follow each other', () => {
    expect(held('186 F jars 1-4;179 F jars 5-8;178 F jars 9-12;186 F jars 13-16', 16)).toEqual([{ from: 5, to: 12 }]);
  });
});

test('jars at the edge of a stretch are in it', () => {
  expect(touches([{ from: 9, to: 24 }], { from: 24, to: 30 })).toBe(true);
  expect(touches([{ from: 9, to: 24 }], { from: 25, to: 30 })).toBe(false);
});
