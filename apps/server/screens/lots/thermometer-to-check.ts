import type { PackBody } from '#libs/records/kinds/pack.js';
import { notCheckedYet } from '#libs/syrup/instruments/pad-warning.js';
import type { Thermometer } from '#libs/syrup/instruments/thermometers.js';
import { withTimes } from '#libs/syrup/quantities/reading-time.js';
import { judgeReadings } from '#libs/syrup/rules/judge-reading.js';
import { standing } from './fill-views.js';

/** The warning about a thermometer without a check this season, while the syrup is still hot. */
export function toCheck(pack: PackBody, thermometers: readonly Thermometer[], now: string) {
  const newest = judgeReadings(withTimes(standing(pack), pack.packedAt), thermometers).at(-1);
  const found = notCheckedYet(newest, thermometers, Date.parse(now));
  if (!found) return undefined;
  const { ids, isNear } = found;
  const [first] = ids;
  const which =
    first === undefined ? 'no thermometer was' : ids.length === 1 ? `${first} was not` : `${ids.join(', ')} were not`;
  // Two lines on the smallest phone: the box for the reading must stay on the first screen.
  return {
    text: isNear
      ? `Within 2 °F of the limit, and ${which} checked this season:`
      : `${which.charAt(0).toUpperCase()}${which.slice(1)} checked this season:`,
    href: `/supporting-records/checks/new?how=ice${first === undefined ? '' : `&instrument=${encodeURIComponent(first)}`}`,
    link: isNear ? 'check it now, or fill hotter' : 'check it first',
  };
}
