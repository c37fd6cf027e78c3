import { loadSugarhouseContext, type WriteContext } from '#libs/actions/record/write-context.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { type RecordInput, inputTexts } from '#libs/actions/record/parsed-field.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import type { Recorded, RecordOptions } from '#libs/actions/record/record.js';
import { recordWithPhoto, type TakenPhoto } from '#libs/actions/photos/record-with-photo.js';
import { requireRight, refuseForeignInitials } from '../http/may-write.js';
import type { Principal } from '../http/principal.js';
import { allTexts, firstText, type Posted } from './field-view.js';
import { firstReceived, type ReceivedForm } from './first-received.js';
import { postedFields } from './posted-fields.js';

/** Records what a form posted. `more` holds fields that the page itself supplies: the lot it is about, who writes. */
export async function writeRecord(
  principal: Principal,
  kind: Kind,
  posted: Posted,
  more: Readonly<Record<string, string>> = {},
  recordOptions: RecordOptions = {},
): Promise<Recorded | Refusal> {
  const parsed = await readForm(principal, kind, posted, { more, adds: recordOptions.add === true });
  if ('problem' in parsed) return parsed;
  const { context, fields } = parsed;
  const by = kind.fields['by'] && !fields['by'] && !recordOptions.of ? { by: context.by } : {};
  return recordWithPhoto(principal.book, context, {
    kind,
    sent: { ...by, ...fields, ...more },
    options: recordOptions,
    photo: photoOf(principal, posted),
  });
}

/** The photo that was taken on the form, with its caption. */
export const photoOf = ({ photo }: Principal, posted: Posted): TakenPhoto | undefined =>
  photo && { bytes: photo, caption: firstText(posted['photo~caption']) };

/**
 * A posted form as the fields of a record; refused unless the person may write it, or with `adds` add to it. Rights depend
 * on the fields as they will be recorded: several boxes of a form can fill one field.
 */
export async function readForm(
  principal: Principal,
  kind: Kind,
  posted: Posted,
  { more = {}, adds = false }: { readonly more?: Readonly<Record<string, string>>; readonly adds?: boolean } = {},
): Promise<{ readonly context: WriteContext; readonly fields: RecordInput } | Refusal> {
  const context = writeContextOf(principal, posted);
  const { parseOptions: options } = await loadSugarhouseContext(principal.book.read, context);
  const fields = postedFields(kind.fields, posted, options);
  const recorded = inputTexts({ ...fields, ...more });
  requireRight(principal, kind, recorded, adds);
  return refuseForeignInitials(principal, recorded['by']) ?? { context, fields };
}

/** The form of a request, by its token; undefined where it has none. */
export function receivedForm({ practice, writeContext }: Principal): ReceivedForm | undefined {
  const { sugarhouse, author, key } = writeContext;
  return key === undefined ? undefined : { practice, sugarhouse, author, token: key };
}

/** The write context with the time at which the form was first received, and the source if the writer named one. */
export function writeContextOf(principal: Principal, posted: Posted): WriteContext {
  const { writeContext: context } = principal;
  const form = receivedForm(principal);
  const now = form ? firstReceived(form, context.now) : context.now;
  return { ...context, now, ...(allTexts(posted['fromPaper']).includes('yes') ? { from: 'paper' } : {}) };
}
