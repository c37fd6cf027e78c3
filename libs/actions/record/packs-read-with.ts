import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import type { CheckBody } from '#libs/records/kinds/instrument-check.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { type Lot, lotsOf, recordsOf, recordsOfEach } from '#libs/store/queries/lots.js';
import { findMatchingId, sameId } from '#libs/syrup/instruments/thermometers.js';
import type { RuleName } from '#libs/syrup/rules/rules.js';
import type { RecordBeingWritten } from '../judging/record-being-written.js';
import { loadSuspectDensities } from '../facts/suspect-density.js';
import { loadThermometers } from '../facts/thermometers.js';

/**
 * The packs that a check may affect: those of any year with a reading by its instrument, or in the jar without a named
 * thermometer; those with a density that an instrument found wrong is taken to have read, or was before this record; and
 * those of its year with an unchecked thermometer.
 */
export const packsAffectedByCheck = (change: RecordBeingWritten): Promise<string[]> =>
  packsReadWith(change, bothVersions(change));

/**
 * An instrument that is recorded after its checks, or corrected from a hydrometer to a thermometer or the other way,
 * gives its checks another meaning.
 */
export async function packsAffectedByInstrument(change: RecordBeingWritten): Promise<string[]> {
  const { sql, sugarhouse, prepared } = change;
  const checks = (await recordsOf({ sql, sugarhouse }, 'check')).map(({ body }) => body);
  return packsReadWith(change, [
    { instrument: prepared.id },
    ...checks.filter(({ instrument }) => sameId(findMatchingId(instrument, [prepared.id]), prepared.id)),
  ]);
}

const bothVersions = ({ prepared, before }: RecordBeingWritten): CheckBody[] => [
  prepared.body as CheckBody,
  ...(before ? [before.body as CheckBody] : []),
];

/** A pack or a corrective action on it, and when its readings were taken. */
interface Readings {
  readonly pack: string;
  readonly body: PackBody | ActionBody;
  readonly at: string;
}

async function packsReadWith(
  { sql, sugarhouse }: RecordBeingWritten,
  checks: readonly { readonly instrument: string; readonly at?: string }[],
): Promise<string[]> {
  const reader = { sql, sugarhouse };
  const { pack: packs, action: actions } = await recordsOfEach(reader, ['pack', 'action']);
  const all: Readings[] = [
    ...packs.map(({ id, body }) => ({ pack: id, body, at: body.packedAt })),
    ...actions.map(({ body }) => ({ pack: body.lot, body, at: body.at })),
  ];
  const lots = await lotsOf(reader, 'pack');
  const years = new Set(checks.flatMap(({ at }) => (at === undefined ? [] : [Number(at.slice(0, 4))])));
  const ofYears = new Set(lots.filter(({ year }) => years.has(year)).map(({ code }) => code));
  const isSuspect = await loadIsDensitySuspect(reader);
  const affected = new Set([
    ...all
      .filter(
        (each) =>
          checks.some(({ instrument }) => isNamedIn(each, instrument)) || hasUnnamedFill(each) || isSuspect(each),
      )
      .map(({ pack }) => pack),
    ...lots
      .filter(
        (lot) =>
          hasFinding(lot, 'density-measure-again') ||
          (ofYears.has(lot.code) && hasFinding(lot, 'thermometer-not-checked')),
      )
      .map(({ code }) => code),
  ]);
  return [...withPouredFrom(affected, packs)];
}

const isNamedIn = ({ body }: Readings, instrument: string): boolean =>
  [...(body.instruments ?? []), ...body.fillTemps.flatMap(({ thermometer }) => thermometer ?? [])].some((name) =>
    sameId(findMatchingId(name, [instrument]), instrument),
  );

const hasUnnamedFill = ({ body }: Readings): boolean => body.fillTemps.some((fill) => fill.thermometer === undefined);

/** Whether a density is suspect by the checks as they are now; the year of the thermometers doesn't matter for that. */
async function loadIsDensitySuspect(reader: SugarhouseReader): Promise<(readings: Readings) => boolean> {
  const suspect = await loadSuspectDensities(reader, await loadThermometers(reader, 0));
  return ({ body: { densityReading, densityBy, densityAt, instruments = [] }, at }) => {
    if (!densityReading) return false;
    const why = suspect({ by: densityBy, sampleAt: densityAt }, { instruments, atMs: Date.parse(at) });
    return why.whySuspect !== undefined || why.correctedSample !== undefined;
  };
}

/** With the packs poured from them, and from those: a held pack may hold what is made of it. */
function withPouredFrom(
  affected: ReadonlySet<string>,
  packs: readonly { readonly id: string; readonly body: PackBody }[],
): Set<string> {
  const into = new Map<string, string[]>();
  for (const { id, body } of packs) for (const { lot } of body.fromLots) into.set(lot, [...(into.get(lot) ?? []), id]);
  const all = new Set(affected);
  // A set gives the members that are added during the loop too.
  for (const code of all) for (const poured of into.get(code) ?? []) all.add(poured);
  return all;
}

/** Whether the verdict of a lot in the index has a finding by this rule, also one that a release accepted. */
export const hasFinding = (lot: Lot, rule: RuleName): boolean =>
  lot.verdict?.findings.some((finding) => finding.rule === rule) ?? false;
