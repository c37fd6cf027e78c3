import { provinceNames } from '#libs/actions/places/place-names.js';
import { placeList } from '#libs/actions/places/places.js';
import { usStateNames } from '#libs/syrup/labelling/us-states.js';

interface Choice {
  readonly value: string;
  readonly text: string;
}

/** Places with their own rules first, then every other state and province; and the stored value as typed. */
export function placeChoices(chosen: string): readonly Choice[] {
  const own = placeList().map(({ name }) => name);
  const others = [...Object.values(usStateNames), ...Object.values(provinceNames)].filter(
    (name) => !own.includes(name),
  );
  return withChosen([...own, ...others], chosen).map((name) => ({ value: name, text: name }));
}

/** The time zones to choose from, and the chosen one even if it isn't among them. */
export const zoneChoices = (chosen: string): readonly Choice[] =>
  withChosen(zones, chosen).map((zone) => ({
    value: zone,
    text: zone.replace(/^America\//, '').replaceAll('_', ' '),
  }));

const withChosen = (values: readonly string[], chosen: string): readonly string[] =>
  chosen === '' || values.includes(chosen) ? values : [...values, chosen];

/** The zones of sugar-maple country and its neighbours; others come from the device or the command line. */
const zones = [
  'America/New_York',
  'America/Detroit',
  'America/Chicago',
  'America/Indiana/Indianapolis',
  'America/Toronto',
  'America/Winnipeg',
  'America/Halifax',
  'America/Moncton',
  'America/St_Johns',
  'America/Denver',
  'America/Los_Angeles',
  'America/Anchorage',
  'America/Vancouver',
];
