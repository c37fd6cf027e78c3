import { loadHarmElsewhereEvidence } from '../facts/harm-elsewhere.js';
import { type SupportingRecordBody, textIn } from '#libs/records/kinds/supporting-record.js';
import type { NumberedEntry } from '#libs/records/entry.js';
import { entriesOfRecord } from '#libs/store/log/history-of-record.js';
import { findRecord, type StoredRecord, type Lot, recordsAbout } from '#libs/store/queries/lots.js';
import { lotsUpstream, ofKind } from '#libs/store/queries/trace.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import { formatTemperature, formatDensity } from '#libs/syrup/quantities/format-quantities.js';
import { judgeFill } from '#libs/syrup/rules/judge-fill.js';
import { ruleTitle } from '#libs/syrup/rules/rules.js';
import { rulesInContainer } from '#libs/syrup/labelling/places.js';
import type { RuleEvidence, OpenFacts, Recorded } from '#libs/syrup/rules/open-facts.js';
import { whyBoilOpen, type WhyLine, whyOpen } from '#libs/syrup/rules/why-open.js';
import type { JudgingContext } from '../judging/judging-context.js';
import { judgeLotNow } from '../judging/judge-now.js';
import { boughtSyrupFacts } from '../facts/defoamer-facts.js';
import { loadFillFacts } from '../facts/fill-facts.js';
import { type CurrentPack, packAfterActions } from '../facts/pack-after-actions.js';
import { loadBoilEvidence, loadChecksAround } from './state-evidence.js';
import { type Refusal, refused, unknown } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';
import type { Signatures } from '#libs/records/signatures.js';
import { signaturesOf } from '#libs/store/queries/lot-signatures.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface StateExplanation {
  readonly lot: string;
  readonly kind: 'pack' | 'boil';
  readonly status: Lot['state'];
  readonly rules: readonly WhyLine[];
  readonly signatures: Signatures;
}

/** Why a pack or boil is in its state: each hold rule with what satisfied it, judged anew, and who signed for it. */
export async function explainState(judging: JudgingContext, typed: string): Promise<StateExplanation | Refusal> {
  const { sql, sugarhouse } = judging;
  const named = await lookUpLot({ sql, sugarhouse }, typed);
  if (!named) return unknown('lot', typed);
  if (named.kind !== 'pack' && named.kind !== 'boil')
    return refused(
      'not-judged',
      `${named.code} is a ${named.kind}: the rules judge boils and packs, and it has no status of its own.`,
    );
  const lot = (await judgeLotNow(judging, named.code)) ?? named;
  const findings = lot.verdict?.findings ?? [];
  return {
    lot: lot.code,
    kind: named.kind,
    status: lot.state,
    rules:
      lot.kind === 'boil'
        ? whyBoilOpen({ findings, ...(await loadBoilEvidence(judging, lot.code, [lot])) })
        : whyOpen(await loadExplanationFacts(judging, lot)),
    signatures: await signaturesOf({ sql, sugarhouse }, lot.code),
  };
}

async function loadExplanationFacts(judging: JudgingContext, lot: Lot): Promise<OpenFacts> {
  const { sql, sugarhouse } = judging;
  const record = await findRecord({ sql, sugarhouse }, 'pack', lot.code);
  if (!record) throw new Error(`Pack ${lot.code} is in the index without its record`);
  const actions = await recordsAbout({ sql, sugarhouse }, lot.code, 'action');
  const pack = packAfterActions(
    record.body,
    actions.map((each) => each.body),
  );
  const upstream = (await lotsUpstream({ sql, sugarhouse }, lot.code)).filter((each) => each.code !== lot.code);
  const writers = lastWriters(await entriesOfRecord({ sql, sugarhouse }, 'pack', lot.code), actions);
  const recorded = (field: string, value: string | undefined): Recorded | undefined =>
    value === undefined || value === '' ? undefined : { value, by: writers.of(field) };
  const density = recorded('densityReading', pack.densityReading && formatDensity(pack.densityReading));
  const fill = await loadFillFacts(judging, lot, pack);
  const { readings, uncovered } = judgeFill(fill);
  const boils = ofKind(upstream, 'boil');
  return {
    findings: lot.verdict?.findings ?? [],
    fills: readings.map((reading) => ({ reading, by: writers.ofFill(reading.fill) })),
    checks: await loadChecksAround({ sql, sugarhouse }, readings),
    uncovered,
    interval: { typed: fill.interval.typed, holds: fill.gapsHold },
    ...recordedFields(pack, record.typed, recorded),
    hasMaximumDensity:
      rulesInContainer(judging.houseContext.place, pack.container.volume.millilitres).maximumBrix !== null,
    density: density && {
      ...density,
      sampleAt: pack.densityAt && formatTemperature(pack.densityAt),
      with: pack.densityBy,
    },
    jars: lot.jars ?? null,
    container: pack.container.typed,
    drawn: pack.fromLots.map((each) => `${each.typed || 'all of it'} of ${each.lot}`),
    defoamers: await loadDefoamers(sql, sugarhouse, boils),
    bought: (await boughtSyrupFacts({ sql, sugarhouse }, pack, upstream)).map(({ about, answers, by }) => ({
      lot: about.replace('receipt/', ''),
      allergens: answers.join(', ').trim(),
      by,
    })),
    labels: await loadLabelAnswer({ sql, sugarhouse }, lot.code),
    upstream: upstream.map(({ code, state }) => ({ lot: code, state })),
    pouredFrom: ofKind(upstream, 'pack').map(({ code }) => code),
    complaints: (await recordsAbout({ sql, sugarhouse }, lot.code, 'complaint')).map(({ id, body }) => ({
      id,
      mould: typeof body['mould'] === 'string' ? body['mould'] : '',
      by: body.by,
    })),
    harmElsewhere: await loadHarmElsewhereEvidence({ sql, sugarhouse }, lot.code),
    answered: (await recordsAbout({ sql, sugarhouse }, lot.code, 'answer')).map(({ body }) => answerText(body)),
    ...(await loadBoilEvidence(judging, lot.code, boils)),
  };
}

/** The fields of the pack that its rules read, each with who recorded it; absent where it was left blank. */
const recordedFields = (
  pack: CurrentPack,
  typed: Readonly<Record<string, string>>,
  recorded: (field: string, value: string | undefined) => Recorded | undefined,
) => ({
  brokenGlass: recorded('brokenGlass', pack.brokenGlass?.typed),
  seals: recorded('sealsFailed', pack.sealsFailed === undefined ? undefined : String(pack.sealsFailed)),
  sealsOutcome: recorded('sealsOutcome', pack.sealsOutcome),
  product: recorded('product', typed['product']),
  kettle: recorded('hotPackTemp', pack.hotPackTemp && formatTemperature(pack.hotPackTemp)),
  mould: recorded('mould', pack.mould),
  note: recorded('note', typed['note']),
  clarity: recorded('clarity', pack.clarity),
  offFlavour: recorded('offFlavour', pack.offFlavour),
  colour: recorded('colourClass', pack.colourClass) ?? recorded('transmittance', pack.transmittance?.typed),
});

/** `complaint CO0001 says “glass”: answered no, by WE` */
const answerText = (body: SupportingRecordBody): string =>
  `${(body['questions'] as readonly string[]).join('; ')}: answered ${textIn(body, 'answer')}, by ${body.by}`;

/**
 * Who recorded a field last: the corrective action that gave it, else whoever last changed it in the pack's own record.
 */
function lastWriters(entries: readonly NumberedEntry[], actions: readonly StoredRecord<'action'>[]) {
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

/** What the labels that were printed state, run by run, and what is not recorded of them. */
async function loadLabelAnswer(reader: SugarhouseReader, code: string): Promise<RuleEvidence> {
  const runs = (await recordsAbout(reader, code, 'labels')).filter(({ body }) => body.what !== 'spoiled');
  return {
    because: runs.map(({ id, at, body: { from = 1, to, allergens = '', quantity, by } }) =>
      [
        `${id}, ${at.slice(0, 10)}, jars ${from}–${to ?? 'last'}: allergens ${allergens || 'not recorded'}`,
        ...(quantity ? [quantity.typed] : []),
        `by ${by}`,
      ].join(', '),
    ),
    notRecorded: runs.length === 0 ? ['labels printed for its jars'] : [],
    isJudged: runs.every(({ body }) => (body.allergens ?? '') !== ''),
  };
}

async function loadDefoamers(sql: JudgingContext['sql'], sugarhouse: string, boils: readonly Lot[]) {
  const defoamers: OpenFacts['defoamers'][number][] = [];
  for (const { code } of boils) {
    const body = (await findRecord({ sql, sugarhouse }, 'boil', code))?.body;
    if (body) defoamers.push({ lot: code, defoamer: body.defoamer, allergens: body.defoamerAllergens, by: body.by });
  }
  return defoamers;
}

/** Lines for a terminal: the rule, the evidence that satisfied it, and what was not recorded. */
export function explanationLines({ lot, status, rules: lines }: StateExplanation): string[] {
  return [
    `${lot} is ${status}.`,
    ...lines.flatMap((line) => [
      `  ${ruleTitle(line.rule)}: ${stateText[line.state]}${line.because.length > 0 ? `: ${line.because.join('; ')}` : ''}`,
      ...(line.notRecorded.length > 0 ? [`    not recorded: ${line.notRecorded.join('; ')}`] : []),
    ]),
  ];
}

export const stateText: Readonly<Record<WhyLine['state'], string>> = {
  met: 'met',
  'no-limit': 'no limit here',
  'not-recorded': 'not recorded',
  accepted: 'accepted',
  'off-sale': 'off sale',
  holds: 'holds it',
};
