import { balancesOf, type JarBalance, noJars } from '#libs/records/balance.js';
import type { ActionBody, PackBody } from '#libs/records/bodies.js';
import type { NumberedEntry } from '#libs/records/entry.js';
import { utcOf } from '#libs/records/instants.js';
import { historyOf } from '#libs/records/log.js';
import { findRecord, type Lot, recordsAbout } from '#libs/records/lots.js';
import type { Sql } from '#libs/records/sql.js';
import { lotsUpstream, movementsOf, ofKind } from '#libs/records/trace.js';
import { fahrenheitOf } from '#libs/syrup/quantities.js';
import { historyLines, lateEntries } from './read-history.js';
import { packReadings } from './read-readings.js';
import { inputOf } from './read-season-flow.js';
import type { SeasonLot, SentTo } from './season-lot.js';

/** The packs of a season with their readings, balances, findings and history, in the order given. */
export async function readSeasonLots(
  sql: Sql,
  sugarhouse: string,
  packs: readonly Lot[],
  asOf: string,
  inDoubt: ReadonlySet<string>,
): Promise<SeasonLot[]> {
  const balances = await balancesOf(
    sql,
    sugarhouse,
    packs.map((pack) => pack.code),
    utcOf(asOf),
  );
  const lots: SeasonLot[] = [];
  for (const pack of packs)
    lots.push(await readLot(sql, sugarhouse, pack, balances.get(pack.code) ?? noJars, asOf, inDoubt));
  return lots;
}

async function readLot(
  sql: Sql,
  sugarhouse: string,
  pack: Lot,
  jars: JarBalance,
  asOf: string,
  inDoubt: ReadonlySet<string>,
): Promise<SeasonLot> {
  const body = (await findRecord<PackBody>(sql, sugarhouse, 'pack', pack.code))?.body;
  if (!body) throw new Error(`Pack ${pack.code} is in the index without its record`);
  const boils = ofKind(await lotsUpstream(sql, sugarhouse, pack.code), 'boil');
  const actions = await recordsAbout<ActionBody>(sql, sugarhouse, pack.code, 'action');
  const counts = await recordsAbout<{ countedAt: string }>(sql, sugarhouse, pack.code, 'count');
  const entries = await historyOf(sql, sugarhouse, pack.code);
  const verdict = pack.verdict;
  const lowest = verdict?.lowestFill ?? null;
  return {
    lot: pack.code,
    boils: boils.map((boil) => boil.code),
    boiledAt: [...boils].sort((a, b) => (a.atUtc < b.atUtc ? -1 : 1)).map((boil) => boil.at),
    packedAt: body.packedAt,
    container: body.container.typed,
    containerMillilitres: body.container.volume.millilitres,
    jarsMade: jars.made,
    jarsOnHand: jars.onHand,
    jarsSentOut: jars.sentOut,
    jarsDestroyed: jars.destroyed,
    jarsOther: jars.other,
    unaccounted: jars.unaccounted,
    lowestFillF:
      lowest && (lowest.unit === 'F' ? lowest.degrees : Math.round(fahrenheitOf(lowest.celsius) * 100) / 100),
    lowestFillTyped: lowest?.typed ?? null,
    brix: verdict?.brix ?? null,
    brixUncertainty: verdict?.brixUncertainty ?? null,
    colour: verdict?.colour ?? null,
    syrupLitres: Math.round(pack.millilitres ?? 0) / 1000,
    status: pack.state,
    findings: verdict?.findings ?? [],
    inputs: body.fromLots.map(inputOf),
    readings: packReadings(body, body.packedAt, inDoubt),
    containerPrep: body.containerPrep || null,
    sealsFailed: body.sealsFailed ?? null,
    sealsOutcome: body.sealsOutcome || null,
    transmittancePercent: body.transmittance?.percent ?? null,
    clarity: body.clarity || null,
    offFlavour: body.offFlavour || null,
    allergens: verdict?.allergens ?? [],
    note: body.note || null,
    by: body.by,
    sentTo: await readSentTo(sql, sugarhouse, pack.code, asOf),
    lateEntries: lateEntries(entries),
    history: historyLines(entries, 'pack'),
    correctiveActions: actions.map(({ body: action }) => ({
      at: action.at,
      by: action.by,
      found: action.found,
      done: action.done,
      readings: packReadings(action, action.at, inDoubt),
    })),
    statusWhy: statusWhy(pack, entries),
    released: lastRelease(pack, entries),
    countedAt: counts.at(-1)?.body.countedAt ?? null,
  };
}

/** Summed by place and kind, sales first, then by place. */
async function readSentTo(sql: Sql, sugarhouse: string, pack: string, asOf: string): Promise<SentTo[]> {
  const sums = new Map<string, SentTo>();
  for (const movement of await movementsOf(sql, sugarhouse, [pack])) {
    if (movement.sentUtc > utcOf(asOf)) continue;
    const key = `${movement.kind}\n${movement.to}`;
    sums.set(key, { place: movement.to, kind: movement.kind, jars: (sums.get(key)?.jars ?? 0) + movement.jars });
  }
  const rank = (sent: SentTo): number => (sent.kind === 'sale' ? 0 : 1);
  return [...sums.values()].sort((a, b) => rank(a) - rank(b) || (a.place < b.place ? -1 : 1));
}

function statusWhy(pack: Lot, entries: readonly NumberedEntry[]): string | null {
  if (pack.state === 'open' || pack.state === 'released') return null;
  const deed = pack.state === 'recalled' ? 'recall' : 'hold';
  const said = entries.filter((entry) => entry.deed === deed).at(-1)?.why;
  const stops = (pack.verdict?.findings ?? []).filter((finding) => finding.stop).map((finding) => finding.found);
  return [said, ...stops].filter(Boolean).join('; ') || null;
}

function lastRelease(pack: Lot, entries: readonly NumberedEntry[]): SeasonLot['released'] {
  const release = entries.filter((entry) => entry.deed === 'release').at(-1);
  return pack.state === 'released' && release ? { by: release.by, at: release.typedAt, why: release.why ?? '' } : null;
}
