import { describe, expect, test } from '@jest/globals';
import { placeList, placeRules } from '#libs/actions/places/places.js';
import { isRefusal } from '#libs/actions/record/problem.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import { rulesVersion } from '#libs/syrup/rules/rules.js';
import { container as containerOf, density, judged, spoke } from '../support/pack-facts.js';

const rulesOf = (name: string): PlaceRules => {
  const rules = placeRules(name);
  if (isRefusal(rules)) throw new Error(`${name} has no rules`);
  return rules;
};
const stops = (place: PlaceRules, reading: string, at = '60 F') =>
  spoke({ place, density: density(reading, at) }).filter((name) => name.endsWith('!'));

describe.each(placeList().map(({ name }) => name))('the rules of %s', (name) => {
  const place = rulesOf(name);
  const least = [place.minimumBrix, place.standInMinimumBrix].find((limit) => limit?.gates);

  test('the least density passes, a tenth less holds, in °Bx and in °Bé', () => {
    if (!least) throw new Error(`${name} has no least density that gates`);
    expect(stops(place, `${least.value} Bx`)).toEqual([]);
    // A place's chart is a rule; without one, a tenth is less than a hydrometer can show.
    const held = [place.chart?.decides ? 'density-too-thin!' : 'density-measure-again!'];
    expect(stops(place, `${(least.value - 0.1).toFixed(1)} Bx`)).toEqual(held);
    expect(stops(place, `${(least.value - 0.5).toFixed(1)} Bx`)).toEqual(['density-too-thin!']);
    expect(stops(place, `${least.baume} Be`)).toEqual([]);
    expect(stops(place, `${(least.baume - 0.1).toFixed(1)} Be`)).toEqual(held);
  });

  test('the greatest density passes where there is one, a tenth more holds', () => {
    const most = place.maximumBrix;
    expect(stops(place, `${most?.value ?? 68.9} Bx`)).toEqual([]);
    expect(stops(place, `${((most?.value ?? 68.9) + 0.1).toFixed(1)} Bx`)).toEqual(
      most?.gates ? ['density-too-thick!'] : [],
    );
  });

  test('the verdict names the rules it is based on', () => {
    expect(judged({ place }).rules).toBe(`rules ${rulesVersion}; ${place.id} ${place.rulesVersion}`);
  });
});

test('the same hot reading passes by the chart of Vermont and by formula under the US standard', () => {
  expect(stops(rulesOf('Vermont'), '60.4 Bx', '185 F')).toEqual([]);
  expect(stops(rulesOf('Vermont'), '60.3 Bx', '185 F')).toEqual(['density-too-thin!']);
  expect(stops(rulesOf('us'), '60.3 Bx', '185 F')).toEqual([]);
});

test('in Quebec a drum over 5 L may hold 60 to 69 °Bx, a can of 5 L may not', () => {
  const inDrum = (reading: string, container: string) =>
    spoke({
      place: rulesOf('Quebec'),
      density: density(reading, '60 F'),
      container: containerOf(container),
      jars: 1,
      drawnMl: 40_000,
    }).filter((name) => name.startsWith('density') && name.endsWith('!'));
  expect(inDrum('62 Bx', 'drum 150 L')).toEqual([]);
  expect(inDrum('59 Bx', 'drum 150 L')).toEqual(['density-too-thin!']);
  expect(inDrum('70 Bx', 'drum 150 L')).toEqual(['density-too-thick!']);
  expect(inDrum('62 Bx', 'metal can 5 L')).toEqual(['density-too-thin!']);
});

test('New Hampshire’s 66.9, which is not verified, is an advisory; the 66.0 behind it holds', () => {
  expect(spoke({ place: rulesOf('NH'), density: density('66.5 Bx', '60 F') })).toEqual(['density-unconfirmed-limit']);
  expect(stops(rulesOf('NH'), '65.5 Bx')).toEqual(['density-too-thin!']);
});
