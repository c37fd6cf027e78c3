import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { NumberedEntry } from '#libs/records/entry.js';
import { signaturesIn } from '#libs/records/signatures.js';
import { type DefoamerRecorded, formatAllergens } from '#libs/reports/season/allergens-recorded.js';
import type { SeasonLot, SentTo } from '#libs/reports/season/lot.js';
import { ticked } from '#libs/format/ticked.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { balanceFrom, type JarBalance } from '#libs/store/queries/jar-balance.js';
import type { Lot, StoredRecord } from '#libs/store/queries/lots.js';
import type { PackAccount } from '#libs/store/queries/pack-accounts.js';
import { hasMoved, ofKind } from '#libs/store/queries/trace.js';
import { fahrenheitOf } from '#libs/syrup/quantities/quantities.js';
import type { Verdict } from '#libs/syrup/rules/verdict.js';
import { packFields } from '../kinds/pack.js';
import { historyLines, lateEntries } from '../lots/read-history.js';
import { packReadings } from '../facts/read-readings.js';
import { declaredTexts } from '../record/declared-texts.js';
import type { PackData } from './pack-data.js';
import type { LotDeviations } from './read-deviations.js';
import { findingOf } from './read-findings.js';
import { inputOf } from './read-flow.js';
import { densityJudged, fillStatuses, lowestCurrentFill } from './read-judged.js';

interface SeasonLotContext {
  /** The moment of reading, in the book's zone. */
  readonly asOf: string;
  /** Instruments that failed a check in the season. */
  readonly suspectInstruments: ReadonlySet<string>;
  /** Absent where the pack broke no rule. */
  readonly deviations: LotDeviations | undefined;
}

/** A pack as the summary prints it. Throws where the index has the pack and not its record. */
export function seasonLot(
  pack: Lot,
  data: PackData,
  { asOf, suspectInstruments, deviations }: SeasonLotContext,
): SeasonLot {
  const row = data.record('pack', pack.code);
  const account = data.accounts.get(pack.code);
  if (!row || !account) throw new Error(`Pack ${pack.code} is in the index without its record`);
  const { body } = row;
  const { verdict } = pack;
  const actions = data.actions.get(pack.code) ?? [];
  const entries = data.histories.get(pack.code) ?? [];
  const actionBodies = actions.map((action) => action.body);
  const fills = fillStatuses(body, actionBodies, suspectInstruments, verdict);
  const verifications = (data.verifications.get(pack.code) ?? []).map((each) => each.body);
  return {
    lot: pack.code,
    boils: ofKind(data.upstream.get(pack.code) ?? [], 'boil').map((boil) => boil.code),
    boiled: data.poured(pack.code),
    ...lastGtin(data.labels.get(pack.code) ?? []),
    ...asRecorded(body),
    ...jarCounts(balanceFrom(account, utcOf(asOf))),
    ...lowestFill(lowestCurrentFill(fills, verdict)),
    fills,
    densityJudged: densityJudged(body, actionBodies, verdict),
    ...asJudged(verdict),
    syrupLitres: Math.round(pack.millilitres ?? 0) / 1000,
    status: pack.state,
    deviations: deviations?.deviations ?? [],
    verdictChanges: deviations?.changes ?? [],
    readings: packReadings(body, body.packedAt, suspectInstruments),
    allergensSaid: allergenText(pack, data, actionBodies),
    declared: declaredTexts(packFields, 'inSummary', row),
    sentTo: sentTo(account, asOf),
    lateEntries: lateEntries(entries),
    history: historyLines(entries, 'pack'),
    correctiveActions: actions.map((action) => correctiveAction(action, suspectInstruments)),
    statusWhy: statusWhy(pack, entries),
    released: lastRelease(pack, entries),
    signatures: signaturesIn(entries, pack.code, verifications),
    countedAt: data.counts.get(pack.code)?.at(-1)?.body.countedAt ?? null,
  };
}

/** What the maker wrote of the pack; null where nothing was written. */
const asRecorded = (body: PackBody) => ({
  packedAt: body.packedAt,
  product: optionalText(body, 'product'),
  container: body.container.typed,
  containerMillilitres: body.container.volume.millilitres,
  inputs: body.fromLots.map(inputOf),
  containerPrep: body.containerPrep || null,
  atTheBench: ticked([...(body.benchReady ?? []), ...(body.benchFilled ?? [])]),
  sealsFailed: body.sealsFailed ?? null,
  sealsOutcome: body.sealsOutcome || null,
  transmittancePercent: body.transmittance?.percent ?? null,
  clarity: body.clarity || null,
  offFlavour: body.offFlavour || null,
  note: body.note || null,
  by: body.by,
});

/** Where its jars are, by the book and the last count. */
const jarCounts = (jars: JarBalance) => ({
  jarsMade: jars.made,
  jarsOnHand: jars.onHand,
  jarsSentOut: jars.sentOut,
  jarsReturned: jars.parts.returned,
  jarsDestroyed: jars.destroyed,
  jarsOther: jars.other,
  otherText: otherText(jars.parts),
  unaccounted: jars.unaccounted,
});

/** The lowest temperature that still counts, in °F and as typed; null where no jar was read. */
const lowestFill = (lowest: ReturnType<typeof lowestCurrentFill>) => ({
  lowestFillF:
    lowest &&
    (lowest.unit === 'F' ? lowest.number : Math.round(fahrenheitOf(lowest.celsius ?? lowest.number) * 100) / 100),
  lowestFillTyped: lowest?.typed ?? null,
  lowestFillBy: lowest?.instrument ?? null,
});

/** What the last verdict found; empty where the pack was not judged. */
const asJudged = (verdict: Verdict | undefined) => ({
  uncoveredJars: verdict?.uncovered ?? [],
  brix: verdict?.brix ?? null,
  brixUncertainty: verdict?.brixUncertainty ?? null,
  colour: verdict?.colour ?? null,
  findings: (verdict?.findings ?? []).map(findingOf),
  allergens: verdict?.allergens ?? [],
});

/** What is recorded of the defoamers and bought syrup that went into it. */
function allergenText(pack: Lot, data: PackData, actions: readonly ActionBody[]): string {
  const boils = ofKind(data.upstream.get(pack.code) ?? [], 'boil');
  return formatAllergens({
    named: pack.verdict?.allergens ?? [],
    boils: boils.map((boil) => defoamerRecorded(data, boil.code)),
    bought: data
      .poured(pack.code)
      .filter((source) => source.kind === 'receipt')
      .map(({ code }) => data.receipt('receipt', code)?.body.allergens ?? ''),
    answeredLater: actions.some((action) => action.defoamerAllergens !== ''),
    isQuestionOpen: (pack.verdict?.findings ?? []).some(({ rule }) => asksForAllergens.has(rule)),
  });
}

const correctiveAction = (
  { body, typed }: StoredRecord<'action'>,
  suspectInstruments: ReadonlySet<string>,
): SeasonLot['correctiveActions'][number] => ({
  at: body.at,
  by: body.by,
  jars: typed['jars'] || null,
  cause: optionalText(body, 'cause'),
  found: body.found,
  done: doneText(body),
  readings: packReadings(body, body.at, suspectInstruments),
});

const asksForAllergens: ReadonlySet<string> = new Set(['defoamer-allergens', 'bought-syrup-allergens']);

function defoamerRecorded(data: PackData, boil: string): DefoamerRecorded | undefined {
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
