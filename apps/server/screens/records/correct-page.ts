import { type ListItem, listItems, withItem } from '#libs/actions/record/list-items.js';
import { valueItems } from '#libs/actions/record/value-text.js';
import { type Fields, required, splitList, text } from '#libs/actions/record/fields.js';
import type { Kind } from '#libs/actions/record/kind.js';
import type { ParseOptions } from '#libs/actions/record/parse-options.js';
import type { RecordInput } from '#libs/actions/record/parsed-field.js';
import { kindByName, kindOfRecord } from '#libs/actions/kinds/registry.js';
import { invalid, type Problem, unknown, type Refusal } from '#libs/actions/record/problem.js';
import { isVoidable } from '#libs/actions/record/void-record.js';
import type { RecordKind } from '#libs/records/record-types.js';
import type { Portion } from '#libs/records/portion.js';
import { findLot, findRecord, type StoredRecord } from '#libs/store/queries/lots.js';
import { boilSources, packSources } from '../../forms/lot-sources.js';
import {
  allTexts,
  type FieldOptions,
  fieldViews,
  firstText,
  type Posted,
  type Source,
} from '../../forms/field-view.js';
import { type FormContext, formContext, problemView, type SubmittedForm } from '../../forms/form-view.js';
import {
  correctionField,
  correctionItem,
  correctionStrike,
  correctionWhy,
  reasonFor,
} from '../../forms/program-fields.js';
import { postedFields } from '../../forms/posted-fields.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { usualCauses } from '../../text/usual-causes.js';
import { type CorrectedItem, correctedItem, correctedItemView } from './corrected-item.js';
import { recordName, recordAddress } from './record-pages.js';

/** Which field a page corrects: its name, or `all`; blank for the list to pick one from. */
type CorrectionRequest = SubmittedForm & {
  readonly field?: string | undefined;
  /** Of a list: the index of the item, or `new`. */
  readonly item?: string | undefined;
  /** The refused form to void the record: its reason, and why it was refused. */
  readonly voiding?: { readonly why: string; readonly problem: Problem };
};

/**
 * The record's fields, to pick the wrong one; then that field alone with an empty box: nothing is filled in, a blank
 * box changes nothing, and a tick removes a value. Of a list, one item is corrected and the others stay.
 */
export async function correctPage(
  principal: Principal,
  kindName: RecordKind,
  id: string,
  { posted, problem, field: requestedField, item: requestedItem = '', voiding }: CorrectionRequest = {},
) {
  const seen = await lastSeenFor(principal, problem);
  const saved = kindByName.has(kindName) ? await findRecord(readerOf(principal), kindName, id) : undefined;
  const kind = saved && kindOfRecord(saved);
  if (!saved || !kind) return unknown('record', id) satisfies Refusal;
  const houseContext = await formContext(principal);
  const fields = await correctableFields(principal, kind, saved);
  // A blank reason is then the correction's only fault, and belongs to its own box, not to a field named why.
  const why = reasonFor(kind.fields, posted ?? {});
  const whyFault = problem !== undefined && why === '';
  const { field, items, item, shown, picksItem } = requestedPart(fields, saved, {
    field: requestedField ?? firstText(posted?.[correctionField]),
    item: requestedItem,
    posted,
  });
  const summaryOf = () => {
    if (voiding) return problemView(asVoidFault(voiding.problem), voidReason);
    return whyFault ? problemView(reasonMissing, reasonField) : problemView(problem, kind.fields);
  };
  const address = `/records/${kindName}/${encodeURIComponent(id)}`;
  return {
    title: `Correct ${recordName(kind, id)}`,
    here: 'find',
    crumb: {
      href: recordAddress(kindName, id, saved.lot),
      text: saved.lot ?? (kindName === 'house' ? 'The sugarhouse' : id),
    },
    lot: saved.lot,
    action: `${address}/correct`,
    fields,
    ...seen,
    firstEntry: saved.firstSeq,
    summary: summaryOf(),
    names: { why: correctionWhy, strike: correctionStrike, field: correctionField },
    field: field in fields ? field : 'all',
    list: shown.length > 0 ? undefined : fieldsToPick(picksItem ? { [field]: fields[field]! } : fields, saved),
    item: item && items.length > 0 && !picksItem ? correctedItemView(items, item, field) : undefined,
    changes: (sent: Posted, options: ParseOptions) =>
      correctionChanges(fields, sent, options, { saved, field, items, item }),
    why,
    whyFault,
    rows: correctionRows(fields, saved, {
      posted,
      faults: !whyFault && problem && 'faults' in problem ? (problem.faults ?? []) : [],
      measures: houseContext.measures,
      when: 'paper',
      names: shown,
      sources: await portionSources(principal, houseContext, saved, item),
    }),
    toVoid: isVoidable(kindName)
      ? { action: `${address}/void`, isRefused: voiding !== undefined, why: voiding?.why ?? '', box: voidWhy }
      : undefined,
  };
}

interface RequestedPart {
  readonly field: string;
  readonly item: string;
  readonly posted: Posted | undefined;
}

/**
 * What the page corrects: one field or one item of it, all fields, or nothing yet where a field or an item has to be
 * picked. A form without a named field, from a script or an earlier version, is shown with all fields.
 */
function requestedPart(fields: Fields, saved: StoredRecord, { field, item: requested, posted }: RequestedPart) {
  const names = Object.keys(fields);
  if (!names.includes(field)) {
    const shown = field === 'all' || posted !== undefined ? names : [];
    return { field, items: [], item: undefined, shown, picksItem: false };
  }
  const items = itemsOf(fields, saved, field);
  const item = correctedItem(items, requested, posted);
  // A form of an earlier version names no item: it replaces the whole list.
  const picksItem = items.length > 0 && item === undefined && (posted === undefined || correctionItem in posted);
  return { field, items, item, shown: picksItem ? [] : [field], picksItem };
}

/** The record's fields but those of its own id. */
async function correctableFields(principal: Principal, kind: Kind, saved: StoredRecord): Promise<Fields> {
  const entries = Object.entries(kind.fields).filter(([name]) => !kind.idFields.includes(name));
  const cause = kind.kind === 'action' ? await causeField(principal, kind.fields, saved.lot) : {};
  return { ...Object.fromEntries(entries), ...cause };
}

/** The fields to pick the wrong one from: those with a value, then the blank ones. */
function fieldsToPick(fields: Fields, saved: StoredRecord) {
  const names = Object.keys(fields);
  const withValue = (name: string) => ({
    name,
    label: fields[name]?.label ?? name,
    typed: valueItems(fields[name], saved, name).join(' · '),
    items: itemsOf(fields, saved, name).map(({ text: of }) => of),
  });
  return {
    recorded: names.filter((name) => saved.typed[name] !== undefined).map(withValue),
    blank: names.filter((name) => saved.typed[name] === undefined).map(withValue),
  };
}

/** The boxes of the chosen fields, each beside its recorded value. None is needed: a blank box changes nothing. */
function correctionRows(fields: Fields, saved: StoredRecord, options: FieldOptions) {
  const optional = Object.entries(fields).map(([name, field]) => [name, { ...field, needed: false }]);
  const struck = new Set(allTexts(options.posted?.[correctionStrike]));
  const isOneByOne = options.posted === undefined || firstText(options.posted[correctionField]) === 'all';
  const posted = options.posted ?? recordedTicks(fields, saved);
  return fieldViews(Object.fromEntries(optional) as Fields, { ...options, posted }).map((view) => ({
    view,
    written: valueItems(fields[view.name], saved, view.name).join(' · '),
    isList: isOneByOne && itemsOf(fields, saved, view.name).length > 0,
    mayStrike: !fields[view.name]?.needed && saved.typed[view.name] !== undefined,
    struck: struck.has(view.name),
  }));
}

/** Lists of ticks begin as recorded: with none, one new tick would remove the others. */
const recordedTicks = (fields: Fields, { typed }: StoredRecord): Posted =>
  Object.fromEntries(
    Object.entries(fields)
      .filter(([, field]) => field.list && field.choices)
      .map(([name]) => [name, splitList(typed[name] ?? '')]),
  );

/** The cause of a corrective action is picked by what holds its lot. */
async function causeField(principal: Principal, { cause }: Fields, lot: string | undefined): Promise<Fields> {
  const held = lot === undefined ? undefined : await findLot(readerOf(principal), lot);
  return cause ? { cause: { ...cause, suggestions: usualCauses(held) } } : {};
}

/** The recorded lot that is corrected, or all of them, to be ticked with its amount; then those with some left. */
async function portionSources(
  principal: Principal,
  context: FormContext,
  { kind, body }: StoredRecord,
  item: CorrectedItem,
) {
  const left =
    kind === 'boil'
      ? await boilSources(principal, context)
      : kind === 'pack'
        ? await packSources(principal, context)
        : {};
  return Object.fromEntries(
    Object.entries(left).map(([name, sources]): [string, Source[]] => {
      const held = ((body as Readonly<Record<string, unknown>>)[name] ?? []) as readonly Portion[];
      const asked = item === undefined ? held : item === 'new' ? [] : held.filter((_, n) => item.indexes.includes(n));
      const now = asked.map(({ lot, typed }) => ({ code: lot, text: `recorded: ${typed || 'all of it'}` }));
      return [name, [...now, ...sources.filter(({ code }) => held.every(({ lot }) => lot !== code))]];
    }),
  );
}

const reasonField: Fields = {
  [correctionWhy]: required(text, {
    label: 'Why the record is corrected',
    example: 'read the wrong line of the sheet',
  }),
};
/** The reason's box of the void form; the correction on the same page has a reason of its own. */
const voidWhy = 'void-why';
const voidReason: Fields = { [voidWhy]: required(text, { label: 'Why it did not happen', example: 'entered twice' }) };
const asVoidFault = (problem: Problem): Problem =>
  problem.kind === 'invalid'
    ? { ...problem, faults: problem.faults.map((fault) => ({ ...fault, field: voidWhy })) }
    : problem;
const { problem: reasonMissing } = invalid(correctionWhy, 'the reason for the correction, in words', 'nothing');

const itemsOf = (fields: Fields, saved: StoredRecord, name: string): readonly ListItem[] => {
  const field = fields[name];
  return field ? listItems({ name, field, saved }) : [];
};

interface CorrectedList {
  readonly saved: StoredRecord;
  readonly field: string;
  readonly items: readonly ListItem[];
  readonly item: CorrectedItem;
}

/** Only what was newly typed, and blanks where a field was removed; of a list the item, with the others as stored. */
function correctionChanges(
  fields: Fields,
  posted: Posted,
  options: ParseOptions,
  { saved, field: name, items, item }: CorrectedList,
): { readonly changes: RecordInput } | Refusal {
  const struck = allTexts(posted[correctionStrike]).filter((each) => each in fields);
  const typed = postedFields(fields, posted, options);
  const changes = { ...typed, ...Object.fromEntries(struck.map((each) => [each, ''])) };
  if (Object.keys(changes).length === 0 && reasonFor(fields, posted) !== '')
    return invalid(name in fields ? name : 'field', 'a new value, or a tick that removes the recorded one', 'nothing');
  const field = fields[name];
  if (!field || items.length === 0 || !(correctionItem in posted)) return { changes };
  if (item === undefined)
    return invalid(name, 'a value that is still recorded; somebody corrected it in the meantime', 'another');
  const isStruck = struck.includes(name);
  const value = typed[name] ?? '';
  if (!isStruck && value === '') return { changes };
  const list = withItem({ name, field, saved, options }, item === 'new' ? undefined : item, isStruck ? '' : value);
  return { changes: { ...changes, [name]: list } };
}
