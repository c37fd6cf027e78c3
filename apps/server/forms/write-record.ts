import { groundOf, type Desk } from '#libs/actions/record/write-context.js';
import type { Kind } from '#libs/actions/record/kind.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { record, type Recorded, type Ways } from '#libs/actions/record/record.js';
import { demandRight, signsForAnother } from '../http/may-write.js';
import type { Visitor } from '../http/principal.js';
import { all, one, type Posted } from './field-view.js';
import { firstReceived } from './first-received.js';
import { postedTexts } from './posted-texts.js';

/** Records what a form posted. `more` are texts that the page itself knows: the lot it is about, who writes. */
export async function writeRecord(
  who: Visitor,
  kind: Kind,
  posted: Posted,
  more: Readonly<Record<string, string>> = {},
  ways: Ways = {},
): Promise<Recorded | Refusal> {
  demandRight(who, kind, { ...posted, ...more });
  const refusal = signsForAnother(who, one(posted['by']));
  if (refusal) return refusal;
  const desk = deskOf(who, posted);
  const { manner } = await groundOf(who.book.read, desk);
  const texts = postedTexts(kind.fields, posted, desk.now, manner.zone);
  const by = kind.fields['by'] && !texts['by'] && !ways.of ? { by: desk.by } : {};
  return record(who.book, desk, kind, { ...by, ...texts, ...more }, ways);
}

/** The desk with the moment the form first came in, and where its words were copied from if the writer said so. */
export function deskOf(who: Visitor, posted: Posted): Desk {
  const { desk } = who;
  const now = desk.key === undefined ? desk.now : firstReceived(desk.key, desk.now);
  return { ...desk, now, ...(all(posted['fromPaper']).includes('yes') ? { from: 'paper' } : {}) };
}
