import { loadSugarhouseContext, type WriteContext } from '#libs/actions/record/write-context.js';
import type { Kind } from '#libs/actions/record/kind.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import type { Recorded, RecordOptions } from '#libs/actions/record/record.js';
import { recordWithPhoto } from '#libs/actions/photos/record-with-photo.js';
import { demandRight, signsForAnother } from '../http/may-write.js';
import type { Principal } from '../http/principal.js';
import { all, one, type Posted } from './field-view.js';
import { firstReceived } from './first-received.js';
import { postedTexts } from './posted-texts.js';

/** Records what a form posted. `more` are texts that the page itself knows: the lot it is about, who writes. */
export async function writeRecord(
  principal: Principal,
  kind: Kind,
  posted: Posted,
  more: Readonly<Record<string, string>> = {},
  recordOptions: RecordOptions = {},
): Promise<Recorded | Refusal> {
  const read = await textsToWrite(principal, kind, posted, more);
  if ('problem' in read) return read;
  const { context, texts } = read;
  const by = kind.fields['by'] && !texts['by'] && !recordOptions.of ? { by: context.by } : {};
  const { photo } = principal;
  return recordWithPhoto(principal.book, context, {
    kind,
    sent: { ...by, ...texts, ...more },
    options: recordOptions,
    photo: photo && { bytes: photo, caption: one(posted['photo~caption']) },
  });
}

/** What a form posted as the texts of a record, by somebody who may write it. */
export async function textsToWrite(
  principal: Principal,
  kind: Kind,
  posted: Posted,
  more: Readonly<Record<string, string>> = {},
): Promise<{ readonly context: WriteContext; readonly texts: Readonly<Record<string, string>> } | Refusal> {
  demandRight(principal, kind, { ...posted, ...more });
  const refusal = signsForAnother(principal, one(posted['by']));
  if (refusal) return refusal;
  const context = writeContextOf(principal, posted);
  const { parseOptions: options } = await loadSugarhouseContext(principal.book.read, context);
  return { context, texts: postedTexts(kind.fields, posted, context.now, options.zone) };
}

/** The desk with the moment the form first came in, and where its words were copied from if the writer said so. */
export function writeContextOf(principal: Principal, posted: Posted): WriteContext {
  const { writeContext: context } = principal;
  const now = context.key === undefined ? context.now : firstReceived(context.key, context.now);
  return { ...context, now, ...(all(posted['fromPaper']).includes('yes') ? { from: 'paper' } : {}) };
}
