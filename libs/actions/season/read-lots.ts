import { balanceFrom } from '#libs/store/queries/jar-balance.js';
import type { JarBalance } from '#libs/store/queries/jar-balance.js';
import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import { textIn } from '#libs/records/kinds/supporting-record.js';
import {
  flowsIntoEach,
  historyOfEach,
  lotsNamed,
  lotsUpstreamOfEach,
  recordsAboutEach,
  recordsNamed,
} from '#libs/store/connection/batch-queries.js';
import type { NumberedEntry } from '#libs/records/entry.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { type Lot, recordsOf } from '#libs/store/queries/lots.js';
import { type PackAccount, packAccounts } from '#libs/store/queries/pack-accounts.js';
import { signaturesIn } from '#libs/records/signatures.js';
import { hasMoved, ofKind } from '#libs/store/queries/trace.js';
import { fahrenheitOf } from '#libs/syrup/quantities/quantities.js';
import { isBlank } from '#libs/syrup/quantities/plain-answers.js';
import { formatAllergens, type DefoamerRecorded } from '#libs/reports/season/allergens-recorded.js';
import { type LotDeviations } from './read-deviations.js';
import { findingOf } from './read-findings.js';
import { packFields } from '../kinds/pack.js';
import { declaredTexts } from '../record/declared-texts.js';
import { historyLines, lateEntries } from '../lots/read-history.js';
import { densityJudged, fillStatuses, lowestCurrentFill } from './read-judged.js';
import { packReadings } from '../lots/read-readings.js';
import { inputOf } from './read-flow.js';
import type { SeasonCache } from './season-parts.js';
import type { SeasonLot, SentTo, SyrupSource } from '#libs/reports/season/lot.js';
import { ticked } from '#libs/format/ticked.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

interface SeasonLotsContext {
  /** The moment of reading, in the book's zone. */
  readonly asOf: string;
  /** Instruments that failed a check in the season. */
  readonly suspectInstruments: ReadonlySet<string>;
  readonly deviations: ReadonlyMap<string, LotDeviations>;
  readonly withoutLog: boolean;
  readonly parts: SeasonCache;
}

/** The packs of a season with their readings, balances, findings and history, in the order given. */
export async function readSeasonLots(
  reader: SugarhouseReader,
  packs: readonly string[],
  { asOf, suspectInstruments, deviations, withoutLog, parts }: SeasonLotsContext,
): Promise<SeasonLot[]> {
  const unread = packs.filter((code) => !parts.lots.has(code));
  const data = await loadPackData(reader, unread, withoutLog);
  const found = await lotsNamed(reader, unread);
  return packs.flatMap((code) => {
    const known = parts.lots.get(code);
    if (known) return [known];
    const pack = found.get(code);
    if (!pack) return [];
    const lot = seasonLot(pack, data, asOf, suspectInstruments, deviations.get(code));
    if (isAccountedFor(data.accounts.get(code), utcOf(asOf))) parts.lots.set(code, lot);
    return [lot];
  });
}

/** Whether no movement in the account is later than `nowUtc`. */
const isAccountedFor = (account: PackAccount | undefined, nowUtc: string): boolean =>
  account !== undefined &&
  [
    ...account.movements.flatMap(({ sentUtc, lookedUtc }) => [sentUtc, lookedUtc ?? '']),
    ...account.takenOff.map(({ atUtc }) => atUtc),
    ...account.counts.map(({ countedUtc }) => countedUtc),
    ...account.outOf.map(({ atUtc }) => atUtc),
  ].every((at) => at <= nowUtc);

/** Data read for all packs together. */
async function loadPackData(reader: SugarhouseReader, packs: readonly string[], withoutLog: boolean) {
  const upstream = await lotsUpstreamOfEach(reader, packs);
  const codesAbove = (kind: 'boil' | 'receipt'): string[] => [
    ...new Set([...upstream.values()].flatMap((lots) => ofKind(lots, kind)).map((lot) => lot.code)),
  ];
  return {
    accounts: await packAccounts(reader, packs),
    record: await recordsNamed(reader, ['pack'], packs),
    upstream,
    actions: await recordsAboutEach(reader, packs, 'action'),
    verifications: await recordsAboutEach(reader, packs, 'verification'),
    counts: await recordsAboutEach(reader, packs, 'count'),
    labels: await recordsAboutEach(reader, packs, 'labels'),
    histories: await historyOfEach(reader, withoutLog ? [] : packs),
    poured: await loadSyrupSources(reader, packs),
    boil: await recordsNamed(reader, ['boil'], codesAbove('boil')),
    receipt: await recordsNamed(reader, ['receipt'], codesAbove('receipt')),
    lines: await recordsAboutEach(reader, codesAbove('boil'), 'line'),
    bottles: new Map(
      (await recordsOf(reader, 'supply'))
        .map(({ body }) => [textIn(body, 'what').trim().toLowerCase(), textIn(body, 'allergens')] as const)
        .filter(([, allergens]) => !isBlank(allergens)),
    ),
  };
}

/**
 * The boils and receipts whose syrup was poured into each pack, through packs poured back. What an earlier boil left in
 * the pans is upstream too, but no jar was filled from it.
 */
async function loadSyrupSources(
  reader: SugarhouseReader,
  packs: readonly string[],
): Promise<(pack: string) => SyrupSource[]> {
  const into = new Map<string, string[]>();
  const known = new Map<string, Lot>();
  for (let pending = [...packs]; pending.length > 0;) {
    const flows = await flowsIntoEach(reader, pending);
    for (const [to, those] of flows)
      into.set(
        to,
        those.filter((flow) => flow.kind === 'syrup').map((flow) => flow.from),
      );
    const found = await lotsNamed(
      reader,
      [...flows.values()].flat().map((flow) => flow.from),
    );
    for (const [code, lot] of found) known.set(code, lot);
    pending = [...found.values()].filter((lot) => lot.kind === 'pack' && !into.has(lot.code)).map((lot) => lot.code);
  }
  return (pack) => {
    const seen = new Set([pack]);
    for (const each of seen) for (const from of into.get(each) ?? []) seen.add(from);
    return [...seen]
      .flatMap((code) => known.get(code) ?? [])
      .sort((a, b) => (a.atUtc < b.atUtc ? -1 : a.atUtc > b.atUtc ? 1 : a.code < b.code ? -1 : 1))
      .flatMap(({ code, kind, at }) => (kind === 'boil' || kind === 'receipt' ? [{ code, kind, at }] : []));
  };
}

function seasonLot(
  pack: Lot,
  data: Awaited<ReturnType<typeof loadPackData>>,
  asOf: string,
  suspectInstruments: ReadonlySet<string>,
  input: LotDeviations | undefined,
): SeasonLot {
  const [row, account] = [data.record('pack', pack.code), data.accounts.get(pack.code)];
  if (!row || !account) throw new Error(`Pack ${pack.code} is in the index without its record`);
  const { body } = row;
  const jars = balanceFrom(account, utcOf(asOf));
  const boils = ofKind(data.upstream.get(pack.code) ?? [], 'boil');
  const actions = data.actions.get(pack.code) ?? [];
  const counts = data.counts.get(pack.code) ?? [];
  const entries = data.histories.get(pack.code) ?? [];
  const verdict = pack.verdict;
  const actionBodies = actions.map((action) => action.body);
  const fills = fillStatuses(body, actionBodies, suspectInstruments, verdict);
  const lowest = lowestCurrentFill(fills, verdict);
  return {
    lot: pack.code,
    boils: boils.map((boil) => boil.code),
    boiled: data.poured(pack.code),
    packedAt: body.packedAt,
    ...lastGtin(data.labels.get(pack.code) ?? []),
    product: optionalText(body, 'product'),
    container: body.container.typed,
    containerMillilitres: body.container.volume.millilitres,
    jarsMade: jars.made,
    jarsOnHand: jars.onHand,
    jarsSentOut: jars.sentOut,
    jarsReturned: jars.parts.returned,
    jarsDestroyed: jars.destroyed,
    jarsOther: jars.other,
    otherText: otherText(jars.parts),
    unaccounted: jars.unaccounted,
    lowestFillF:
      lowest &&
      (lowest.unit === 'F' ? lowest.number : Math.round(fahrenheitOf(lowest.celsius ?? lowest.number) * 100) / 100),
    lowestFillTyped: lowest?.typed ?? null,
    lowestFillBy: lowest?.instrument ?? null,
    fills,
    uncoveredJars: verdict?.uncovered ?? [],
    densityJudged: densityJudged(body, actionBodies, verdict),
    brix: verdict?.brix ?? null,
    brixUncertainty: verdict?.brixUncertainty ?? null,
    colour: verdict?.colour ?? null,
    syrupLitres: Math.round(pack.millilitres ?? 0) / 1000,
    status: pack.state,
    findings: (verdict?.findings ?? []).map(findingOf),
    deviations: input?.deviations ?? [],
    verdictChanges: input?.changes ?? [],
    inputs: body.fromLots.map(inputOf),
    readings: packReadings(body, body.packedAt, suspectInstruments),
    containerPrep: body.containerPrep || null,
    atTheBench: ticked([...(body.benchReady ?? []), ...(body.benchFilled ?? [])]),
    sealsFailed: body.sealsFailed ?? null,
    sealsOutcome: body.sealsOutcome || null,
    transmittancePercent: body.transmittance?.percent ?? null,
    clarity: body.clarity || null,
    offFlavour: body.offFlavour || null,
    allergens: verdict?.allergens ?? [],
    allergensSaid: formatAllergens({
      named: verdict?.allergens ?? [],
      boils: boils.map((boil) => defoamerRecorded(data, boil.code)),
      bought: data
        .poured(pack.code)
        .filter((source) => source.kind === 'receipt')
        .map(({ code }) => data.receipt('receipt', code)?.body.allergens ?? ''),
      answeredLater: actionBodies.some((action) => action.defoamerAllergens !== ''),
      isQuestionOpen: (verdict?.findings ?? []).some(({ rule }) => asksForAllergens.has(rule)),
    }),
    declared: declaredTexts(packFields, 'inSummary', row),
    note: body.note || null,
    by: body.by,
    sentTo: sentTo(account, asOf),
    lateEntries: lateEntries(entries),
    history: historyLines(entries, 'pack'),
    correctiveActions: actions.map(({ body: action, typed }) => ({
      at: action.at,
      by: action.by,
      jars: typed['jars'] || null,
      cause: optionalText(action, 'cause'),
      found: action.found,
      done: doneText(action),
      readings: packReadings(action, action.at, suspectInstruments),
    })),
    statusWhy: statusWhy(pack, entries),
    released: lastRelease(pack, entries),
    signatures: signaturesIn(
      entries,
      pack.code,
      (data.verifications.get(pack.code) ?? []).map((each) => each.body),
    ),
    countedAt: counts.at(-1)?.body.countedAt ?? null,
  };
}

const asksForAllergens: ReadonlySet<string> = new Set(['defoamer-allergens', 'bought-syrup-allergens']);

function defoamerRecorded(data: Awaited<ReturnType<typeof loadPackData>>, boil: string): DefoamerRecorded | undefined {
  const body = data.boil('boil', boil)?.body;
  if (!body) return undefined;
  return {
    defoamer: body.defoamer,
    allergens: body.defoamerAllergens,
    logged: (data.lines.get(boil) ?? [])
      .filter((line) => line.body.what === 'defoamer')
      .map((line) => line.body.note.trim() || 'used'),
    bottle: data.bottles.get(body.defoamer.trim().toLowerCase()) ?? null,
  };
}

/** A field that newer books have, as typed; null where it is blank or missing. */
function optionalText(body: object, field: string): string | null {
  const value = (body as Readonly<Record<string, unknown>>)[field];
  return typeof value === 'string' && value !== '' ? value : null;
}

const countedElsewhere = new Set(['sale', 'gift', 'returned', 'destroyed']);

/** `2 kept, 1 broken`: the parts that the balance counts as other. */
const otherText = (parts: JarBalance['parts']): string =>
  Object.entries(parts)
    .filter(([part, jars]) => jars !== 0 && !countedElsewhere.has(part))
    .map(([part, jars]) => `${jars} ${part.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)}`)
    .join(', ');

/** Summed by destination and kind, sales first, then by destination. */
function sentTo({ movements }: PackAccount, asOf: string): SentTo[] {
  const sums = new Map<string, SentTo>();
  for (const movement of movements) {
    if (!hasMoved(movement, utcOf(asOf))) continue;
    const key = `${movement.kind}\n${movement.to}`;
    sums.set(key, { place: movement.to, kind: movement.kind, jars: (sums.get(key)?.jars ?? 0) + movement.jars });
  }
  const rank = (sent: SentTo): number => (sent.kind === 'sale' ? 0 : 1);
  return [...sums.values()].sort((a, b) => rank(a) - rank(b) || (a.place < b.place ? -1 : 1));
}

function statusWhy(pack: Lot, entries: readonly NumberedEntry[]): string | null {
  if (pack.state === 'open' || pack.state === 'released') return null;
  const entryType = pack.state === 'recalled' ? 'recall' : 'hold';
  const reason = entries.filter((entry) => entry.entryType === entryType).at(-1)?.why;
  const stops = (pack.verdict?.findings ?? []).filter((finding) => finding.stop).map((finding) => finding.found);
  return [reason, ...stops].filter(Boolean).join('; ') || null;
}

function lastRelease(pack: Lot, entries: readonly NumberedEntry[]): SeasonLot['released'] {
  const release = entries.filter((entry) => entry.entryType === 'release').at(-1);
  return pack.state === 'released' && release ? { by: release.by, at: release.typedAt, why: release.why ?? '' } : null;
}

const doneText = ({ way, done }: ActionBody): string =>
  way && way !== 'other' ? `${way.replaceAll('-', ' ')}: ${done}` : done;

/** The article number on its most recent labels. */
function lastGtin(runs: readonly { readonly typed: Readonly<Record<string, string>> }[]): { gtin?: string } {
  const gtin = runs.findLast(({ typed }) => typed['gtin'])?.typed['gtin'];
  return gtin === undefined ? {} : { gtin };
}
