import { packAfterActions } from '#libs/actions/facts/pack-after-actions.js';
import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import { usualInterval } from '#libs/syrup/quantities/check-interval.js';
import { parseFillReadings } from '#libs/syrup/quantities/fill-readings.js';
import type { JarSpan } from '#libs/syrup/jars/jar-spans.js';
import { judgePack } from '#libs/syrup/rules/judge-pack.js';
import type { Thermometer } from '#libs/syrup/instruments/thermometers.js';
import type { Verdict } from '#libs/syrup/rules/verdict.js';
import { boil, ordinaryPack, temperature } from '../support/pack-facts.js';
import type { HiddenPack, HiddenSeason, WrittenAction, WrittenCheck } from './hidden-season.js';

const zone = '-04:00';

/** A pack’s verdict by the functions that the program calls, from only what was recorded until a moment. */
export function verdictOf(season: HiddenSeason, pack: HiddenPack, until: string, withActions: boolean): Verdict {
  const body = packAfterActions(bodyOf(pack), withActions ? pack.actions.map(actionOf) : []);
  return judgePack({
    ...ordinaryPack,
    jars: pack.jars,
    drawnMl: pack.jars * ordinaryPack.container.volume.millilitres,
    boils: [boil({ syrupMl: 1e6, drawnInAllMl: 1 })],
    fills: body.fillsAtFirst,
    actions: body.actions,
    parts: body.parts,
    sealsFailed: 0,
    interval: usualInterval,
    thermometers: thermometersIn(season, until),
  });
}

/** The jars that may not go out: held, poured back or destroyed. */
export function heldBack(verdict: Verdict, jars: number): ReadonlySet<number> {
  const held = verdict.findings.some(({ stop }) => stop) ? (verdict.heldJars ?? [{ from: 1, to: jars }]) : [];
  return numbersIn([...held, ...(verdict.gone ?? [])]);
}

export const numbersIn = (spans: readonly JarSpan[]): ReadonlySet<number> =>
  new Set(spans.flatMap(({ from, to }) => Array.from({ length: to - from + 1 }, (_, n) => from + n)));

function thermometersIn({ instruments, checks }: HiddenSeason, until: string): Thermometer[] {
  return instruments.map((id) => {
    const own = checks.filter((check) => check.instrument === id && check.at < until);
    return { id, checks: own.map(checkOf), checkedThisSeason: own.length > 0 };
  });
}

const checkOf = ({ id, at, how, should, reads, done }: WrittenCheck): Thermometer['checks'][number] => ({
  id,
  atMs: Date.parse(`${at}:00${zone}`),
  day: at.slice(0, 10),
  how,
  should: temperature(should),
  shouldFrom: 'typed',
  reads: temperature(reads),
  done,
});

const readingsOf = (text: string) => parseFillReadings(text).value ?? [];

const bodyOf = (pack: HiddenPack): PackBody => ({
  fromLots: [],
  packedAt: `${pack.packedAt}:00${zone}`,
  container: ordinaryPack.container,
  containerPrep: ordinaryPack.containerPrep,
  jars: pack.jars,
  fillTemps: readingsOf(pack.fillTemps),
  sealsFailed: 0,
  sealsOutcome: '',
  colourClass: '',
  clarity: 'clear',
  offFlavour: 'none',
  by: 'OE',
  note: '',
});

function actionOf(action: WrittenAction): ActionBody {
  const [from, to] = action.jars.split('-').map(Number);
  return {
    lot: '26077A-1',
    at: `${action.at}:00${zone}`,
    found: action.found,
    way: action.way,
    done: action.done,
    cause: action.cause,
    ...(action.jars === ''
      ? {}
      : { jars: { typed: action.jars, all: false, count: to! - from! + 1, spans: [{ from: from!, to: to! }] } }),
    fillTemps: readingsOf(action.fillTemps),
    sealsFailed: 0,
    sealsOutcome: '',
    clarity: '',
    offFlavour: '',
    defoamerAllergens: '',
    by: 'WE',
  };
}
