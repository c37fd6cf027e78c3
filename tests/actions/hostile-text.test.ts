import { describe, expect, test } from '@jest/globals';
import type { Fields } from '#libs/actions/record/fields.js';
import { readFields } from '#libs/actions/record/read-fields.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { calculators, reckon } from '#libs/actions/calculators/calculators.js';
import { boilsUnderway } from '#libs/actions/kinds/boil.js';
import { parseCheckInterval } from '#libs/syrup/quantities/check-interval.js';
import { parseContainer } from '#libs/syrup/quantities/container.js';
import { parseFillReading } from '#libs/syrup/quantities/fill-readings.js';
import { isClear, isNone, isWarmed } from '#libs/syrup/free-text/short-answers.js';
import { parseArea } from '#libs/syrup/labelling/panel-area.js';
import { parseTemperature, parseVolume } from '#libs/syrup/quantities/quantities.js';
import { findSpoilage } from '#libs/syrup/free-text/find-spoilage.js';

const options = {
  zone: 'America/New_York',
  volumes: { bareGallons: 'US' as const },
  now: new Date('2026-03-20T16:00Z'),
};
const mostMs = 20;

/** Texts of a length at which a pattern that can match a letter in two ways becomes slow. */
const fillers = (letters: number): string[] =>
  [
    ' ',
    '9',
    '.',
    ',',
    '-',
    '1 ',
    '1.',
    '9,',
    'a',
    'a ',
    'x ',
    '1x',
    ' or ',
    '@',
    '#',
    '1@',
    ':',
    'not ',
    'no mould',
    'jars ',
    ' jar',
    '\t',
    'é',
    '(',
    "n't ",
    '/',
  ].flatMap((each) => {
    const body = each.repeat(Math.ceil(letters / each.length)).slice(0, letters - 4);
    // An end that doesn't match makes a pattern backtrack.
    return [body, `1${body}!`, `1 F${body}`, `a${body}é`];
  });

/** The fastest of a few runs, so that a pause of the machine isn't counted. */
function msOf(work: () => void): number {
  let quickest = Infinity;
  for (let n = 0; n < 5 && quickest > mostMs; n++) {
    const began = performance.now();
    work();
    quickest = Math.min(quickest, performance.now() - began);
  }
  return quickest;
}

/** Many kinds of record share fields: each is timed once. */
const timed = new Set<unknown>();

function slowFields(name: string, fields: Fields, read: (sent: Record<string, unknown>) => unknown): string[] {
  return Object.entries(fields).flatMap(([field, { read: reader, letters, items, list }]) => {
    if (timed.has(reader)) return [];
    timed.add(reader);
    return fillers(letters).flatMap((filler) => {
      const ms = msOf(() => read({ [field]: filler }));
      // Many slightly different items, up to the most that are accepted.
      const many = list ? Array.from({ length: items }, (_, n) => `${filler.slice(0, letters - 4)}${n}`) : [];
      const manyMs = list ? msOf(() => read({ [field]: many.join(';') })) : 0;
      // A list holds that many texts, so it has many times the letters of one.
      return ms > mostMs || manyMs > mostMs * 10
        ? [
            `${name}.${field} ${JSON.stringify(filler.slice(0, 20))}: ${Math.round(ms)} ms, list ${Math.round(manyMs)} ms`,
          ]
        : [];
    });
  });
}

describe('the longest text of a field', () => {
  const kinds = [...kindByName.values(), packsUnderway, boilsUnderway];
  test.each(kinds.map((kind) => [kind.noun, kind] as const))('of a %s is parsed without delay', (_, kind) => {
    expect(slowFields(kind.noun, kind.fields, (sent) => readFields(kind.fields, sent, options))).toEqual([]);
  });

  test.each(calculators.map((question) => [question.name, question] as const))(
    'of the calculator %s is parsed without delay',
    (name, question) => {
      expect(slowFields(name, question.fields, (sent) => reckon(name, sent, options))).toEqual([]);
    },
  );

  test('from an older book or a file takes time in proportion to its length', () => {
    const readers = [
      parseTemperature,
      parseVolume,
      parseContainer,
      parseFillReading,
      parseCheckInterval,
      parseArea,
      isWarmed,
      isClear,
      isNone,
      findSpoilage,
    ];
    const slow = readers.flatMap((reader) =>
      fillers(60_000).flatMap((text) => {
        const ms = msOf(() => (reader as (typed: string) => unknown)(text));
        return ms > mostMs * 5 ? [`${reader.name} ${JSON.stringify(text.slice(0, 20))}: ${Math.round(ms)} ms`] : [];
      }),
    );
    expect(slow).toEqual([]);
  });
});
