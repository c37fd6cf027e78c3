import type { CheckBody } from '#libs/records/kinds/instrument-check.js';
import type { NumberedEntry } from '#libs/records/entry.js';
import { entriesOfRecord } from '#libs/store/log/history-of-record.js';
import { findRecord, type StoredRecord, type Lot, recordsAbout } from '#libs/store/queries/lots.js';
import { recordsOf } from '#libs/store/queries/lots.js';
import { lotsUpstream, ofKind } from '#libs/store/queries/trace.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import { shown, shownDensity } from '#libs/syrup/quantities/decimal-text.js';
import { type LastCheck, type OpenFacts, type Recorded, type WhyLine, whyOpen } from '#libs/syrup/rules/why-open.js';
import type { Judging } from './judge-lots.js';
import { lotJudgedNow } from './judged-now.js';
import { packAfterActions } from './pack-after-actions.js';
import { type Refusal, refused, unknown } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';
import type { Signatures } from '#libs/records/signatures.js';
import { signaturesOf } from '#libs/store/queries/lot-signatures.js';

export interface WhyStands {
  readonly lot: string;
  readonly status: Lot['state'];
  readonly rules: readonly WhyLine[];
  readonly signatures: Signatures;
}

/** Why a pack stands as it does: each hold rule with what satisfied it, judged anew, and who signed for it. */
export async function whyStands(judging: Judging, typed: string): Promise<WhyStands | Refusal> {
  const { sql, sugarhouse } = judging;
  const resolved = await lookUpLot({ sql, sugarhouse }, typed);
  if (!resolved) return unknown('lot', typed);
  if (resolved.kind !== 'pack')
    return refused(
      'not-a-pack',
      `${resolved.code} is a ${resolved.kind}: the rules judge packs, such as ${resolved.code}-1.`,
    );
  const lot = (await lotJudgedNow(judging, resolved.code)) ?? resolved;
  const facts = await openFacts(judging, lot);
  return {
    lot: lot.code,
    status: lot.state,
    rules: whyOpen(facts),
    signatures: await signaturesOf({ sql, sugarhouse }, lot.code),
  };
}

async function openFacts({ sql, sugarhouse }: Judging, lot: Lot): Promise<OpenFacts> {
  const record = await findRecord({ sql, sugarhouse }, 'pack', lot.code);
  if (!record) throw new Error(`Pack ${lot.code} is in the index without its record`);
  const actions = await recordsAbout({ sql, sugarhouse }, lot.code, 'action');
  const pack = packAfterActions(
    record.body,
    actions.map((each) => each.body),
  );
  const upstream = (await lotsUpstream({ sql, sugarhouse }, lot.code)).filter((each) => each.code !== lot.code);
  const writers = writersOf(await entriesOfRecord({ sql, sugarhouse }, 'pack', lot.code), actions);
  const formatted = (field: string, value: string | undefined): Recorded | undefined =>
    value === undefined || value === '' ? undefined : { value, by: writers.of(field) };
  const density = formatted('densityReading', pack.densityReading && shownDensity(pack.densityReading));
  return {
    findings: lot.verdict?.findings ?? [],
    fills: pack.fillTemps.map((fill) => ({ fill, by: writers.ofFill(fill) })),
    checks: await lastChecks(sql, sugarhouse, pack.fillTemps, pack.packedAt),
    density: density && {
      ...density,
      sampleAt: pack.densityAt && shown(pack.densityAt),
      with: pack.densityBy,
    },
    seals: formatted('sealsFailed', pack.sealsFailed === undefined ? undefined : String(pack.sealsFailed)),
    sealsOutcome: formatted('sealsOutcome', pack.sealsOutcome),
    product: formatted('product', record.typed['product']),
    clarity: formatted('clarity', pack.clarity),
    offFlavour: formatted('offFlavour', pack.offFlavour),
    colour: formatted('colourClass', pack.colourClass) ?? formatted('transmittance', pack.transmittance?.typed),
    jars: lot.jars ?? null,
    container: pack.container.typed,
    drawn: pack.fromLots.map((each) => `${each.typed || 'all of it'} of ${each.lot}`),
    defoamers: await defoamersOf(sql, sugarhouse, ofKind(upstream, 'boil')),
    upstream: upstream.map(({ code, state }) => ({ lot: code, state })),
    complaints: (await recordsAbout({ sql, sugarhouse }, lot.code, 'complaint')).map(({ id, body }) => ({
      id,
      mould: typeof body['mould'] === 'string' ? body['mould'] : '',
      by: body.by,
    })),
  };
}

/** Who recorded a field last: a corrective action that brought it, else who last changed it in the pack's own record. */
function writersOf(entries: readonly NumberedEntry[], actions: readonly StoredRecord<'action'>[]) {
  const byField = new Map<string, string>();
  const byReading = new Map<string, string>();
  let before: Readonly<Record<string, string>> = {};
  const readings = (text: string | undefined): string[] => (text ?? '').split(/[;|]/u).map((each) => each.trim());
  for (const { by, record } of entries) {
    const typed = record?.typed ?? {};
    for (const [field, value] of Object.entries(typed)) if (before[field] !== value) byField.set(field, by);
    for (const reading of readings(typed['fillTemps'])) if (!byReading.has(reading)) byReading.set(reading, by);
    before = typed;
  }
  for (const { typed, body } of actions) {
    for (const field of Object.keys(typed)) byField.set(field, body.by);
    for (const reading of readings(typed['fillTemps'])) byReading.set(reading, body.by);
  }
  return {
    of: (field: string): string => byField.get(field) ?? 'not recorded',
    ofFill: ({ typed }: FillReading): string => byReading.get(typed) ?? byField.get('fillTemps') ?? 'not recorded',
  };
}

/** The last check of each thermometer named, before the pack was filled. */
async function lastChecks(
  sql: Judging['sql'],
  sugarhouse: string,
  fills: readonly FillReading[],
  packedAt: string,
): Promise<Map<string, LastCheck | undefined>> {
  const ids = [...new Set(fills.flatMap(({ thermometer }) => thermometer ?? []))];
  const checks = ids.length === 0 ? [] : await recordsOf({ sql, sugarhouse }, 'check');
  return new Map(
    ids.map((id) => {
      const own = checks.findLast(
        ({ body }) => body.instrument.toUpperCase() === id.toUpperCase() && Date.parse(body.at) <= Date.parse(packedAt),
      );
      return [id, own && checkOf(own.body)] as const;
    }),
  );
}

const checkOf = ({ at, how, should, reads, by }: CheckBody): LastCheck => ({
  at,
  how,
  should: should?.typed,
  reads: reads?.typed,
  by,
});

async function defoamersOf(sql: Judging['sql'], sugarhouse: string, boils: readonly Lot[]) {
  const defoamers: OpenFacts['defoamers'][number][] = [];
  for (const { code } of boils) {
    const body = (await findRecord({ sql, sugarhouse }, 'boil', code))?.body;
    if (body) defoamers.push({ lot: code, defoamer: body.defoamer, allergens: body.defoamerAllergens, by: body.by });
  }
  return defoamers;
}

/** The lines of a terminal: the rule, what it was answered with, and what was not recorded. */
export function whyLines({ lot, status, rules: lines }: WhyStands): string[] {
  return [
    `${lot} is ${status}.`,
    ...lines.flatMap((line) => [
      `  ${line.rule}: ${stateText[line.state]}${line.because.length > 0 ? `: ${line.because.join('; ')}` : ''}`,
      ...(line.notRecorded.length > 0 ? [`    not recorded: ${line.notRecorded.join('; ')}`] : []),
    ]),
  ];
}

export const stateText: Readonly<Record<WhyLine['state'], string>> = {
  met: 'met',
  'not-recorded': 'not recorded',
  accepted: 'accepted',
  holds: 'holds it',
};
