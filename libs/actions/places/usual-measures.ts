import { placeRules } from './places.js';

/**
 * The measures of a place's country, for a sugarhouse that chose none: °C and litres in Canada, °F and US gallons
 * elsewhere. A box that shows °F to somebody who reads °C would record 88 °C as 88 °F.
 */
export function usualMeasures(place: string): { readonly temperatures: 'F' | 'C'; readonly volumes: 'gal' | 'L' } {
  const rules = placeRules(place);
  return 'canada' in rules && rules.canada
    ? { temperatures: 'C', volumes: 'L' }
    : { temperatures: 'F', volumes: 'gal' };
}
