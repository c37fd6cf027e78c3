import type { PackBody } from '#libs/records/kinds/pack.js';
import { findFailedThermometer, findUncheckedThermometers } from '#libs/syrup/instruments/unchecked-thermometers.js';
import type { Thermometer } from '#libs/syrup/instruments/thermometers.js';
import { withReadingTimes } from '#libs/syrup/quantities/reading-time.js';
import { judgeReadings } from '#libs/syrup/rules/judge-reading.js';
import type { ThermometerWarning } from '#pages/lots/fill-form-view.js';
import { validReadings } from './fill-views.js';

/**
 * What the quick form asks for before jars are filled: a check of a thermometer that nobody checked that day, while the
 * syrup is still hot. It prevents no reading. Put off once for this pack, it is asked again only after a reading so near
 * the limit that the thermometer decides.
 */
export function thermometerToCheck(
  code: string,
  pack: PackBody,
  thermometers: readonly Thermometer[],
  now: string,
): ThermometerWarning | undefined {
  const newest = judgeReadings(withReadingTimes(validReadings(pack), pack.packedAt), thermometers).at(-1);
  const at = { atMs: Date.parse(now), day: pack.packedAt.slice(0, 10) };
  const found = findUncheckedThermometers(newest, thermometers, at);
  const wasPutOff = pack.thermometerCheck === 'later';
  if (!found) return wrongThermometer(findFailedThermometer(newest, thermometers, at));
  if (wasPutOff && !found.isNear) return undefined;
  const { ids, isNear } = found;
  const since = found.isWholeSeason ? 'this season' : 'today';
  const [first] = ids;
  const notChecked =
    first === undefined
      ? 'No thermometer was'
      : ids.length === 1
        ? `${first} was not`
        : `${ids.slice(0, -1).join(', ')} and ${ids.at(-1)} were not`;
  const checkLink = (how: string): string =>
    `/supporting-records/checks/new?how=${how}${first !== undefined && ids.length === 1 ? `&instrument=${encodeURIComponent(first)}` : ''}&pack=${encodeURIComponent(code)}`;
  return {
    title: isNear ? 'Within 2 °F of the limit.' : 'Check the thermometer first.',
    // Two lines on the smallest phone: the box for the reading must stay on the first screen.
    text: `${notChecked} checked ${since}${isNear ? ': heat the syrup a little, and pour this jar back while it is hot' : ''}.`,
    links: [
      // Nearest to a jar's temperature, and it finds more (`npm run bench -- seasons`).
      { href: checkLink('boiling-water'), text: 'In boiling water' },
      { href: checkLink('ice'), text: 'In ice' },
    ],
    canPostpone: !wasPutOff,
    // The cheapest way out is one tap, as at a reading that is too cold.
    pourBack: isNear ? validReadings(pack).at(-1)?.typed : undefined,
  };
}

/** It was checked and found wrong, and neither set right nor taken out of use: another one is needed. */
const wrongThermometer = (found: ReturnType<typeof findFailedThermometer>): ThermometerWarning | undefined =>
  found && {
    title: `${found.id} was found wrong.`,
    text: 'Take another one, or adjust it and check it again. Its readings are corrected by its error.',
    links: [{ href: `/records/check/${encodeURIComponent(found.check)}`, text: 'Lots read with it before' }],
    canPostpone: false,
    pourBack: undefined,
  };
