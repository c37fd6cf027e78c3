import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import type { Judged, NumberedEntry, RecordRow } from '#libs/records/entry.js';
import { findEntry } from '#libs/store/log/log.js';
import { judgedEntries } from '#libs/store/log/judged-entries.js';
import type { Lot } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { formatFillReading } from '#libs/format/format-reading.js';
import { formatSpans } from '#libs/syrup/jars/jar-spans.js';
import { formatTemperature, formatDensity } from '#libs/syrup/quantities/format-quantities.js';
import type { AcceptedFinding } from '#libs/syrup/rules/accept-findings.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import type {
  Deviation,
  DeviationStep,
  FieldChange,
  VerdictChange,
  VerdictThen,
} from '#libs/reports/season/deviation.js';
import { acceptanceText } from './read-findings.js';
import { voidedDispatches } from './voided-dispatches.js';
import { fieldText, verdictForScripts } from '#libs/reports/season/field-changes.js';
import { kindByName } from '../kinds/registry.js';
import { changedFields } from '../record/changed-fields.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface LotDeviations {
  readonly deviations: readonly Deviation[];
  readonly changes: readonly VerdictChange[];
}

/**
 * Everything that ever held these lots, and the corrections that changed their verdict, from the log. `since` is an
 * entry before which none of them was written.
 */
export async function readDeviations(
  reader: SugarhouseReader,
  lots: readonly Lot[],
  since: number,
): Promise<ReadonlyMap<string, LotDeviations>> {
  const { sql } = reader;
  const entries = lots.length === 0 ? [] : await judgedEntries(reader, since);
  const byLot = new Map<string, { entry: NumberedEntry; judged: Judged }[]>(lots.map((lot) => [lot.code, []]));
  for (const entry of entries) for (const judged of entry.judged ?? []) byLot.get(judged.lot)?.push({ entry, judged });
  const formerVersions = await loadFormerVersions(sql, entries);
  return new Map(
    lots.map((lot) => {
      const input = byLot.get(lot.code) ?? [];
      const deviations = [...deviationsOf(lot, input), ...voidedDispatches(lot.code, input, formerVersions)];
      return [lot.code, { deviations, changes: changesOf(lot, input, formerVersions) }];
    }),
  );
}

type JudgedEntries = readonly { readonly entry: NumberedEntry; readonly judged: Judged }[];

/** The former version of each corrected or voided record, by the number of the entry that changed it. */
async function loadFormerVersions(sql: Sql, entries: readonly NumberedEntry[]) {
  const known = new Map(entries.map((entry) => [entry.seq, entry]));
  const before = new Map<number, RecordRow>();
  for (const { seq, corrects } of entries) {
    if (corrects === undefined) continue;
    const entry = known.get(corrects) ?? (await findEntry(sql, corrects));
    if (entry?.record) before.set(seq, entry.record);
  }
  return before;
}

/** A deviation while the log is being read. */
type OpenDeviation = { -readonly [Key in keyof Deviation]: Deviation[Key] } & {
  done: DeviationStep[];
  readAgain: string[];
};

function deviationsOf(lot: Lot, input: JudgedEntries): Deviation[] {
  const all: OpenDeviation[] = [];
  const openDeviations = (kind: Deviation['kind'], rule?: string): OpenDeviation[] =>
    all.filter((each) => each.open && each.kind === kind && (rule === undefined || each.rule === rule));
  for (const { entry, judged } of input) {
    addActionStep(entry, lot.code, all);
    const stops = judged.verdict?.findings.filter((finding) => finding.stop);
    if (stops) updateRuleDeviations(entry, judged, stops, all);
    if (entry.entryType === 'hold' && entry.about[0] === lot.code && openDeviations('hold').length === 0)
      all.push(manualDeviation(entry, judged, 'hold'));
    if (entry.entryType === 'recall' && judged.state === 'recalled' && openDeviations('recall').length === 0)
      all.push(manualDeviation(entry, judged, 'recall'));
    if (entry.entryType === 'release' && judged.state === 'released')
      for (const each of all.filter((one) => one.open)) {
        each.released = { at: entry.typedAt, by: entry.by, why: releaseText(entry, each.rule) };
        each.open = false;
      }
    // A lot that is open again without a release: a corrected record removed the finding that held it.
    if (judged.state === 'open') for (const each of all) if (each.cleared) each.open = false;
  }
  if (lot.state === 'open' || lot.state === 'released') for (const each of all) if (each.cleared) each.open = false;
  return all;
}

/** The reason as it was entered for the release, with the answer of the authority that was asked about this rule. */
function releaseText({ said, why = 'reason not recorded' }: NumberedEntry, rule: string): string {
  const accepted = (said?.['accepted'] ?? []) as readonly Omit<AcceptedFinding, 'by' | 'at' | 'why'>[];
  return acceptanceText({ ...accepted.find((each) => each.rule === rule), why });
}

/** `cold-jar` as a person writes it; free text stays as it is. */
const withSpaces = (code: string): string => (/^[a-z]+(?:-[a-z]+)+$/.test(code) ? code.replaceAll('-', ' ') : code);

const jarsText = (typed: string | undefined): string => {
  if (!typed) return 'Jars not recorded';
  return typed === 'all' ? 'All jars' : `Of ${/^\d/.test(typed) ? `jars ${typed}` : typed}`;
};

/** Adds a corrective action or correction to every deviation open at that time. */
function addActionStep(entry: NumberedEntry, lot: string, all: readonly OpenDeviation[]): void {
  const action = parseAction(entry);
  if (!action || action.lot !== lot) return;
  const way = action.way && action.way !== 'other' ? withSpaces(action.way) : '';
  const done = action.done.replace(/\.$/, '');
  const text = [
    [way, ...(done === way ? [] : [done])].filter(Boolean).join(': '),
    action.cause ? `Cause: ${withSpaces(action.cause)}` : 'Cause not recorded',
    jarsText(action.jarsTyped),
  ].join('. ');
  for (const each of all.filter((one) => one.open)) {
    // A correction of an action is not another action.
    each.done = [...each.done.filter((one) => one.at !== action.at), { at: action.at, by: action.by, words: text }];
    each.readAgain = [...each.readAgain, ...readingsOf(action).filter((typed) => !each.readAgain.includes(typed))];
  }
}

/** Newer actions may name their jars and the cause; older ones have neither. */
type Action = ActionBody & { readonly cause?: string; readonly jarsTyped?: string };

function parseAction(entry: NumberedEntry): Action | undefined {
  if (entry.record?.kind !== 'action') return undefined;
  const body = entry.record.body as ActionBody & { readonly cause?: unknown };
  const { jars } = entry.record.typed;
  return {
    ...body,
    ...(typeof body.cause === 'string' ? { cause: body.cause } : {}),
    ...(jars ? { jarsTyped: /^\d/.test(jars) ? `jars ${jars}` : jars } : {}),
  };
}

const readingsOf = (action: ActionBody): string[] => [
  ...action.fillTemps.map(formatFillReading),
  ...(action.hotPackTemp ? [`${formatTemperature(action.hotPackTemp)} in the kettle`] : []),
  ...(action.densityReading
    ? [`${formatDensity(action.densityReading)}${action.densityAt ? ` at ${formatTemperature(action.densityAt)}` : ''}`]
    : []),
];

function updateRuleDeviations(
  entry: NumberedEntry,
  judged: Judged,
  stops: readonly Finding[],
  all: OpenDeviation[],
): void {
  for (const stop of stops) {
    const known = all.find((each) => each.kind === 'rule' && each.rule === stop.rule && each.open);
    if (known) {
      // A finding may change: the latest text is listed, with the time it was first found.
      Object.assign(known, { found: stop.found, limit: stop.limit, jars: jarsOf(stop, judged), cleared: null });
      continue;
    }
    // A finding that a maker's release accepted is listed once, with its release.
    const accepted = all.some(
      (each) => each.rule === stop.rule && each.found === stop.found && each.released && judged.state !== 'held',
    );
    if (!accepted) all.push(ruleDeviation(entry, judged, stop));
  }
  const names = new Set<string>(stops.map((stop) => stop.rule));
  for (const each of all)
    if (each.open && each.kind === 'rule' && !each.cleared && !names.has(each.rule))
      each.cleared = { at: entry.typedAt, by: entry.by, through: clearedByText(entry) };
}

const ruleDeviation = (entry: NumberedEntry, judged: Judged, stop: Finding): OpenDeviation => ({
  lot: judged.lot,
  kind: 'rule',
  rule: stop.rule,
  found: stop.found,
  limit: stop.limit,
  source: stop.source,
  jars: jarsOf(stop, judged),
  wayOut: stop.wayOut ?? null,
  foundAt: entry.typedAt,
  foundBy: entry.by,
  heldAt: judged.heldSince ?? null,
  done: [],
  readAgain: [],
  cleared: null,
  released: null,
  open: true,
});

const manualDeviation = (entry: NumberedEntry, judged: Judged, kind: 'hold' | 'recall'): OpenDeviation => ({
  lot: judged.lot,
  kind,
  rule: kind === 'hold' ? 'held by hand' : 'recalled',
  found: entry.why ?? 'not recorded',
  limit: '',
  source: '',
  jars: null,
  wayOut: null,
  foundAt: entry.happenedAt,
  foundBy: entry.by,
  heldAt: entry.happenedAt,
  done: [],
  readAgain: [],
  cleared: null,
  released: null,
  open: true,
});

/** The jars that a finding names, else those of the verdict. */
function jarsOf(stop: Finding, judged: Judged): string | null {
  const spans = stop.jars && stop.jars.length > 0 ? stop.jars : judged.verdict?.heldJars;
  return spans && spans.length > 0 ? formatSpans(spans) : null;
}

function clearedByText(entry: NumberedEntry): string {
  const { record, entryType } = entry;
  if (record?.kind === 'action') return 'the corrective action';
  if (entryType === 'add' && record?.kind === 'pack' && record.body.fillTemps.at(-1)?.pouredBack)
    return 'pouring its jars back and filling them again';
  if (entryType === 'add') return `what was added to ${record?.kind ?? 'a record'} ${record?.id ?? ''}`.trim();
  if (entryType === 'correct') return `a correction of ${record?.kind ?? 'a record'} ${record?.id ?? ''}`.trim();
  if (entryType === 'release') return `the release of ${entry.about[0] ?? 'the lot before it'}`;
  return record ? `${record.kind} ${record.id}` : entryType;
}

/** Corrections after which other rules held the lot, or none, or its state differed. */
function changesOf(lot: Lot, input: JudgedEntries, formerVersions: ReadonlyMap<number, RecordRow>): VerdictChange[] {
  const changes: VerdictChange[] = [];
  let before: Judged | undefined;
  for (const { entry, judged } of input) {
    const stated = formerVersions.get(entry.seq);
    if (
      before &&
      stated &&
      entry.record &&
      entry.entryType === 'correct' &&
      verdictForScripts(verdictSummary(before)) !== verdictForScripts(verdictSummary(judged))
    )
      changes.push({
        lot: lot.code,
        at: entry.typedAt,
        by: entry.by,
        why: entry.why ?? null,
        record: `${entry.record.kind} ${entry.record.id}`,
        changes: fieldChanges(stated, entry.record),
        before: verdictSummary(before),
        after: verdictSummary(judged),
      });
    before = judged.verdict ? judged : { ...judged, verdict: before?.verdict };
  }
  return changes;
}

/** Each field that a correction changed, in the terms of the season's documents. */
const fieldChanges = (before: RecordRow, now: RecordRow): FieldChange[] =>
  changedFields(kindByName.get(now.kind)?.fields ?? {}, before, now).map(({ name, was, now: is }) => ({
    field: fieldText(name),
    was: was.join('; ') || null,
    now: is.join('; ') || null,
  }));

const verdictSummary = ({ state, verdict }: Judged): VerdictThen => ({
  state,
  holds: (verdict?.findings ?? []).filter(({ stop }) => stop).map(({ rule, found }) => ({ rule, found })),
});
