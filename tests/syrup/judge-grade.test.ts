import { describe, expect, test } from '@jest/globals';
import { container, found, judged, percent, spoke } from '../support/pack-facts.js';

describe('flavour, clarity, grade and colour', () => {
  test.each(['', 'none', 'No', '-', 'nil', 'no off-flavour', 'n/a', 'aucune'])('off flavour %p is none', (offFlavour) =>
    expect(spoke({ offFlavour })).toEqual([]),
  );
  test.each(['buddy', 'yes', 'slight metallic', 'scorched'])('off flavour %p holds', (offFlavour) =>
    expect(spoke({ offFlavour })).toEqual(['off-flavour!']),
  );
  test.each([
    '',
    'clear',
    'Bright',
    'brilliant',
    'not cloudy',
    'no sediment',
    'Clair',
    'très limpide',
    'clear and bright, no sediment',
    '-',
  ])('clarity %p passes', (clarity) => expect(spoke({ clarity })).toEqual([]));
  test.each([
    'cloudy',
    'hazy',
    'sediment',
    'slightly cloudy',
    'not clear',
    'trouble',
    'pas clair',
    'clear, a little sediment',
    'unclear',
  ])('clarity %p holds', (clarity) => expect(spoke({ clarity })).toEqual(['cloudy!']));

  test('processing grade in bulk may be cloudy or off-flavoured; below 5 gal it is no retail grade', () => {
    const off = {
      colourClass: 'Processing',
      clarity: 'cloudy',
      offFlavour: 'buddy',
      drawnMl: null,
      jars: 1,
      transmittance: undefined,
    };
    expect(spoke({ ...off, container: container('drum 5 gal') })).toEqual([]);
    expect(spoke({ ...off, container: container('plastic jug 1 gal') })).toEqual([
      'processing-below-5-gal!',
      'off-flavour!',
      'cloudy!',
    ]);
    expect(spoke({ ...off, colourClass: 'Dark', container: container('drum 40 gal') })).toEqual([
      'off-flavour!',
      'cloudy!',
    ]);
    expect(judged({ ...off, container: container('drum 5 gal') })).toMatchObject({
      colour: null,
      colourTyped: 'Processing',
    });
  });

  test('the transmittance decides the class, and a different typed class is a finding', () => {
    expect(judged({ colourClass: '', transmittance: percent('75 %') })).toMatchObject({
      colour: 'Golden',
      colourTyped: null,
      findings: [],
    });
    expect(judged({ colourClass: 'Golden', transmittance: percent('74.9 %') }).colour).toBe('Amber');
    expect(found('colour-conflict', { colourClass: 'Golden', transmittance: percent('74.9 %') })).toMatchObject({
      limit: 'Amber at 74.9 % transmittance',
      found: '“Golden” entered; 74.9 % is Amber, and the transmittance decides',
    });
    expect(spoke({ colourClass: 'Ambré, goût riche' })).toEqual([]);
    expect(judged({ colourClass: 'Dark', transmittance: undefined })).toMatchObject({ colour: 'Dark', findings: [] });
    expect(spoke({ colourClass: 'medium' })).toEqual(['colour-not-known']);
    expect(judged({ colourClass: '', transmittance: undefined }).colour).toBeNull();
  });
});
