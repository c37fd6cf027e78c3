import { valueItems } from '#libs/actions/record/value-text.js';
import { type Fields, needed, text } from '#libs/actions/record/fields.js';
import type { ParseOptions } from '#libs/actions/record/parse-options.js';
import type { SentFields } from '#libs/actions/record/parsed-field.js';
import { kindByName, kindOfRecord } from '#libs/actions/kinds/registry.js';
import { invalid, unknown, type Refusal } from '#libs/actions/record/problem.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { all, fieldViews, type Posted } from '../../forms/field-view.js';
import { formContext, problemView, type Sent } from '../../forms/form-view.js';
import { correctionStrike, correctionWhy, reasonFor } from '../../forms/program-fields.js';
import { postedFields } from '../../forms/posted-fields.js';
import { seenOn } from '../../forms/last-seen.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { whereShown } from './record-pages.js';

/**
 * What stands in the book beside an empty box for each field: nothing is typed for the person, a blank box changes
 * nothing, and striking out is said by a tick.
 */
export async function correctPage(
  principal: Principal,
  kindName: RecordKind,
  id: string,
  { posted, problem }: Sent = {},
) {
  const seen = await seenOn(principal, problem);
  const saved = kindByName.has(kindName) ? await findRecord(readerOf(principal), kindName, id) : undefined;
  const kind = saved && kindOfRecord(saved);
  if (!saved || !kind) return unknown('record', id) satisfies Refusal;
  const { measures } = await formContext(principal);
  const names = Object.keys(kind.fields).filter((name) => !kind.named.includes(name));
  // A blank reason is the only fault that a correction then has, and it is that of its own box, not of a field called why.
  const why = reasonFor(kind.fields, posted ?? {});
  const whyFault = problem !== undefined && why === '';
  const faults = !whyFault && problem && 'faults' in problem ? problem.faults : [];
  const fields = Object.fromEntries(names.map((name) => [name, kind.fields[name]])) as Fields;
  const asText = Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, { ...field, needed: false }]));
  const struck = new Set(all(posted?.[correctionStrike]));
  return {
    title: `Correct ${kind.noun} ${id}`,
    here: 'find',
    crumb: { href: whereShown(kindName, id, saved.lot), text: saved.lot ?? id },
    lot: saved.lot,
    action: `/records/${kindName}/${encodeURIComponent(id)}/correct`,
    fields,
    ...seen,
    firstEntry: saved.firstSeq,
    summary: whyFault ? problemView(reasonMissing, reasonField) : problemView(problem, kind.fields),
    names: { why: correctionWhy, strike: correctionStrike },
    why,
    whyFault,
    rows: fieldViews(asText, { posted, faults: faults ?? [], measures, when: 'paper' }).map((view) => ({
      // Lots that went in are retyped as one text here.
      view: view.control === 'portions' ? { ...view, control: 'text' as const } : view,
      written: valueItems(fields[view.name], saved, view.name).join(' · '),
      mayStrike: !kind.fields[view.name]?.needed && saved.typed[view.name] !== undefined,
      struck: struck.has(view.name),
    })),
  };
}

const reasonField: Fields = {
  [correctionWhy]: needed(text, { label: 'Why the record is corrected', example: 'read the wrong line of the sheet' }),
};
const { problem: reasonMissing } = invalid(correctionWhy, 'the reason for the correction, in words', 'nothing');

/** Only what was typed anew, and blanks where a field was struck out. */
export function changesIn(fields: Fields, posted: Posted, options: ParseOptions): SentFields {
  const struck = all(posted[correctionStrike]).filter((name) => name in fields);
  return { ...postedFields(fields, posted, options), ...Object.fromEntries(struck.map((name) => [name, ''])) };
}
