import { balanceFrom } from '#libs/records/balance.js';
import type { ActionBody, PackBody } from '#libs/records/bodies.js';
import { historyOfEach, lotsUpstreamOfEach, recordsAboutEach, recordsNamed } from '#libs/records/each-of.js';
import type { NumberedEntry } from '#libs/records/entry.js';
import { utcOf } from '#libs/records/instants.js';
import type { Lot } from '#libs/records/lots.js';
import { type PackAccount, packAccounts } from '#libs/records/pack-accounts.js';
import type { Sql } from '#libs/records/sql.js';
import { ofKind } from '#libs/records/trace.js';
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
  const around = await readAround(
    sql,
    sugarhouse,
    packs.map((pack) => pack.code),
  );
  return packs.map((pack) => seasonLot(pack, around, asOf, inDoubt));
}

/** What is read for all of the packs together. */
async function readAround(sql: Sql, sugarhouse: string, packs: readonly string[]) {
  return {
    accounts: await packAccounts(sql, sugarhouse, packs),
    record: await recordsNamed(sql, sugarhouse, ['pack'], packs),
    upstream: await lotsUpstreamOfEach(sql, sugarhouse, packs),
    actions: await recordsAboutEach<ActionBody>(sql, sugarhouse, packs, 'action'),
    counts: await recordsAboutEach<{ countedAt: string }>(sql, sugarhouse, packs, 'count'),
    histories: await historyOfEach(sql, sugarhouse, packs),
  };
}

function seasonLot(
  pack: Lot,
  around: Awaited<ReturnType<typeof readAround>>,
  asOf: string,
  inDoubt: ReadonlySet<string>,
): SeasonLot {
  const [body, account] = [around.record<PackBody>('pack', pack.code)?.body, around.accounts.get(pack.code)];
  if (!body || !account) throw new Error(`Pack ${pack.code} is in the index without its record`);
  const jars = balanceFrom(account, utcOf(asOf));
  const boils = ofKind(around.upstream.get(pack.code) ?? [], 'boil');
  const actions = around.actions.get(pack.code) ?? [];
  const counts = around.counts.get(pack.code) ?? [];
  const entries = around.histories.get(pack.code) ?? [];
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
    sentTo: sentTo(account, asOf),
    lateEntries: lateEntries(entries),
    history: historyLines(entries, 'pack'),
    correctiveActions: actions.map(({ body: action }) => ({
      at: action.at,
      by: action.by,
      found: action.found,
      done: doneWords(action),
      readings: packReadings(action, action.at, inDoubt),
    })),
    statusWhy: statusWhy(pack, entries),
    released: lastRelease(pack, entries),
    countedAt: counts.at(-1)?.body.countedAt ?? null,
  };
}

/** Summed by place and kind, sales first, then by place. */
function sentTo({ movements }: PackAccount, asOf: string): SentTo[] {
  const sums = new Map<string, SentTo>();
  for (const movement of movements) {
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

const doneWords = ({ way, done }: ActionBody): string =>
  way && way !== 'other' ? `${way.replaceAll('-', ' ')}: ${done}` : done;
