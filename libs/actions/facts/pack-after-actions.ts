import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { JarAction } from '#libs/syrup/jars/judge-action.js';
import { wholePack } from '#libs/syrup/jars/fill-holds.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import { type JarSpan, coversSpans } from '#libs/syrup/jars/jar-spans.js';
import { leastSealCoolingMs } from '#libs/syrup/jars/judge-jars.js';
import type { PartOfPack, ReadWith } from '#libs/syrup/rules/judge-parts.js';
import { isClear, isNoOffFlavour, isNotChecked } from '#libs/syrup/free-text/short-answers.js';
import { isoInOffsetOf, type TakenReading, withReadingTimes } from '#libs/syrup/quantities/reading-time.js';

/** A pack with its current readings: new readings of corrective actions replace the earlier ones. */
export interface CurrentPack extends PackBody {
  /** The first readings as taken; `fillTemps` are the current ones. */
  readonly fillsAtFirst: readonly TakenReading[];
  readonly actions: readonly JarAction[];
  readonly parts: readonly PartOfPack[];
  /** The density was read before the syrup was last brought to a boil. */
  readonly densityIsStale: boolean;
  readonly densityReadWith: ReadWith;
  /** When its jars were filled, or the last of them packed again. */
  readonly filledAt: string;
  /** When its jars were filled, or all of them packed again: the earliest time for a seal count of the whole pack. */
  readonly wholeFilledAt: string;
  /** Allergens of a defoamer, as answered by a corrective action. */
  readonly defoamerAllergens: string;
}

/** A pack with its corrective actions applied: their readings replace the old ones for the jars they name. */
export function packAfterActions(pack: PackBody, actions: readonly ActionBody[]): CurrentPack {
  const fillsAtFirst = withReadingTimes(pack.fillTemps, pack.packedAt);
  const filledAt = lastFilledAt(pack.packedAt, fillsAtFirst);
  let current: CurrentPack = {
    ...pack,
    fillsAtFirst,
    actions: [],
    parts: [],
    densityIsStale: false,
    densityReadWith: readWith(pack.instruments, pack.packedAt),
    defoamerAllergens: '',
    filledAt,
    wholeFilledAt: filledAt,
  };
  for (const action of actions) {
    const jars = clearsJars(action) ? jarsOf(action, pack) : undefined;
    const isWhole = jars !== undefined && coversSpans(jars, wholePack(pack.jars ?? null));
    current = {
      ...(isWhole ? applyToWholePack(current, action) : applyToPart(current, action, jars)),
      actions: [...current.actions, jarsActedOn(action, jars)],
      fillTemps: mergedFills(current.fillTemps, action, isWhole),
      ...(action.hotPackTemp ? { hotPackTemp: action.hotPackTemp } : {}),
      ...(jars && isPackedAgainBy(action)
        ? { filledAt: action.at, ...(isWhole ? { wholeFilledAt: action.at } : {}) }
        : {}),
      ...(action.defoamerAllergens === '' ? {} : { defoamerAllergens: action.defoamerAllergens }),
    };
  }
  return current;
}

/** When filling ended: a long evening's last jars are warm twelve hours after its first ones were filled. */
function lastFilledAt(packedAt: string, fills: readonly TakenReading[]): string {
  const lastMs = Math.max(Date.parse(packedAt), ...fills.map(({ atMs }) => atMs ?? 0));
  return lastMs > Date.parse(packedAt) ? isoInOffsetOf(packedAt, lastMs) : packedAt;
}

/** A corrective action that names its jars and the cause; without them it is recorded and clears nothing. */
export const clearsJars = ({ jars, cause }: Pick<ActionBody, 'jars' | 'cause'>): boolean =>
  jars !== undefined && (cause ?? '').trim() !== '';

const jarsOf = ({ jars }: ActionBody, pack: PackBody): readonly JarSpan[] =>
  jars?.all ? wholePack(pack.jars ?? null) : (jars?.spans ?? []);

function jarsActedOn(action: ActionBody, jars: readonly JarSpan[] | undefined): JarAction {
  const { way } = action;
  return {
    how: way === 'destroyed' || way === 'poured-back' || way === 'inspected' ? way : 'packed-again',
    jars: jars ?? [],
    fills: withReadingTimes(action.fillTemps, action.at),
    ...(jars ? {} : { clearsNothing: true }),
    by: action.by,
    at: action.at,
  };
}

const mergedFills = (before: readonly FillReading[], { fillTemps }: ActionBody, isWhole: boolean) =>
  isWhole && fillTemps.length > 0 ? fillTemps : [...before, ...fillTemps];

const densityOf = (action: ActionBody) => ({
  densityReading: action.densityReading,
  densityAt: action.densityAt,
  densityBy: action.densityBy,
  densityCalibratedAt: action.densityCalibratedAt,
  densityReadWith: readWith(action.instruments, action.at),
});

const readWith = (instruments: readonly string[] | undefined, at: string): ReadWith => ({
  instruments: instruments ?? [],
  atMs: Date.parse(at),
});

/** Whether an action filled its jars again: after it the earlier readings and seals no longer count. */
export const isPackedAgainBy = ({ way, fillTemps }: Pick<ActionBody, 'way' | 'fillTemps'>): boolean =>
  way === 'reheated-and-repacked' || (fillTemps.length > 0 && way !== 'inspected');

/** An action on every jar: its readings replace the earlier ones, and new lids need a new check. */
function applyToWholePack(current: CurrentPack, action: ActionBody): CurrentPack {
  const boiledAgain = (action.hotPackTemp?.celsius ?? 0) >= boilsFromCelsius;
  return {
    ...current,
    ...(action.densityReading ? { ...densityOf(action), parts: [] } : {}),
    densityIsStale: action.densityReading ? false : current.densityIsStale || boiledAgain,
    ...(isPackedAgainBy(action)
      ? { sealsFailed: undefined, sealsOutcome: '', parts: sealsChecked(current.parts) }
      : {}),
    ...(action.sealsFailed === undefined ? {} : { sealsFailed: action.sealsFailed, sealsAt: action.sealsAt }),
    ...(action.sealsOutcome === '' ? {} : { sealsOutcome: action.sealsOutcome }),
    ...(action.clarity === '' ? {} : { clarity: action.clarity }),
    ...(action.offFlavour === '' ? {} : { offFlavour: action.offFlavour }),
  };
}

/**
 * An action on some jars, or without jar numbers: its readings are judged beside the rest of the pack, and its
 * observations apply to the whole only where they are worse than before.
 */
function applyToPart(current: CurrentPack, action: ActionBody, jars: readonly JarSpan[] | undefined): CurrentPack {
  const boiledAgain = (action.hotPackTemp?.celsius ?? 0) >= boilsFromCelsius;
  const before =
    jars && current.parts.find((part) => part.jars && coversSpans(jars, part.jars) && coversSpans(part.jars, jars));
  const part: PartOfPack = {
    jars,
    densityIsStale: action.densityReading ? false : boiledAgain || (before?.densityIsStale ?? false),
    density: action.densityReading
      ? {
          reading: action.densityReading,
          sampleAt: action.densityAt,
          by: action.densityBy,
          calibratedAt: action.densityCalibratedAt,
          ...readWith(action.instruments, action.at),
        }
      : boiledAgain
        ? undefined
        : before?.density,
    sealsNotChecked:
      (isPackedAgainBy(action) || (before?.sealsNotChecked ?? false)) &&
      (action.sealsFailed === undefined ||
        isCountedWarm(action, isPackedAgainBy(action) ? action.at : current.filledAt)),
  };
  const failed = action.sealsFailed ?? 0;
  return {
    ...current,
    parts: [...current.parts.filter((each) => each !== before && !isWithin(each, jars, part)), part],
    ...(failed > 0 && (jars !== undefined || failed > (current.sealsFailed ?? 0))
      ? { sealsFailed: Math.max(failed, current.sealsFailed ?? 0), sealsOutcome: action.sealsOutcome }
      : {}),
    ...(action.clarity === '' || isClear(action.clarity) || isNotChecked(action.clarity)
      ? {}
      : { clarity: action.clarity }),
    ...(isNoOffFlavour(action.offFlavour) ? {} : { offFlavour: action.offFlavour }),
  };
}

/** As for a whole pack: counting seals while jars are warm is no check. */
const isCountedWarm = ({ sealsAt }: ActionBody, filledAt: string): boolean =>
  sealsAt !== undefined && Date.parse(sealsAt) - Date.parse(filledAt) < leastSealCoolingMs;

/** Whether jars packed again are within a part that is packed again now, with a density of its own. */
const isWithin = (each: PartOfPack, jars: readonly JarSpan[] | undefined, part: PartOfPack): boolean =>
  each.jars !== undefined && jars !== undefined && part.density !== undefined && coversSpans(jars, each.jars);

const sealsChecked = (parts: readonly PartOfPack[]): PartOfPack[] =>
  parts.map((part) => ({ ...part, sealsNotChecked: false }));

/** °C (210 °F): at or near boiling, so water leaves and an earlier density no longer applies. */
const boilsFromCelsius = 98.8;
