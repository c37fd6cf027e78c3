import { recordsOf } from '#libs/store/queries/lots.js';
import { checkedOf } from '#libs/store/queries/instrument-readings.js';
import { foundRight, type InstrumentChecked } from '#libs/syrup/instruments/instrument-checks.js';
import { named, periodOf } from '#libs/syrup/instruments/suspect-reading.js';
import { idAmong, sameId } from '#libs/syrup/instruments/thermometers.js';
import type { ReadWith } from '#libs/syrup/rules/judge-parts.js';
import type { DensityInstrument } from '#libs/syrup/science/density.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Why a density may not be relied on; undefined where nothing speaks against it. */
export type WhyDensitySuspect = (by: DensityInstrument, read: ReadWith) => string | undefined;

/**
 * A hydrometer or refractometer that a check found wrong, at any reading between the last check that found it right and
 * the next. Where the reading names none, the house's only one of that kind is taken: an assumption may hold a lot.
 */
export async function loadSuspectDensities(reader: SugarhouseReader): Promise<WhyDensitySuspect> {
  const instruments = (await recordsOf(reader, 'instrument')).filter(({ body }) =>
    ['hydrometer', 'refractometer'].includes(String(body['what'])),
  );
  const all = instruments.length === 0 ? [] : await recordsOf(reader, 'check');
  const ids = instruments.map(({ id }) => id);
  const checksOf = (id: string): InstrumentChecked[] =>
    all.flatMap((each) => (sameId(idAmong(each.body.instrument, ids), id) ? [checkedOf(each.id, each.body)] : []));
  return (by, { instruments: written, atMs }) => {
    const ofKind = instruments.filter(
      ({ body }) => body['what'] === (by === 'hydrometer' ? 'hydrometer' : 'refractometer'),
    );
    const meant = ofKind.filter(({ id }) => written.some((each) => sameId(idAmong(each, ids), id)));
    const [read] = meant.length > 0 ? meant : ofKind.length === 1 ? ofKind : [];
    if (!read) return undefined;
    const checks = checksOf(read.id);
    const wrong = checks.find((each) => foundRight(each) === false && isWithin(periodOf(each, checks), atMs));
    return wrong && `${read.id}, found wrong (${named(wrong)})`;
  };
}

const isWithin = (
  { afterMs, untilMs }: { readonly afterMs: number; readonly untilMs: number },
  atMs: number,
): boolean => atMs > afterMs && atMs < untilMs;
