import { dispatches } from '#libs/actions/kinds/dispatch.js';
import { recordTray } from '#libs/actions/lots/record-tray.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import type { Recorded } from '#libs/actions/record/record.js';
import type { Posted } from '../../forms/field-view.js';
import { readForm, photoOf } from '../../forms/write-record.js';
import type { Principal } from '../../http/principal.js';

/** Records jars scanned one after another, each for its own pack where no lot was picked. */
export async function saveTray(principal: Principal, posted: Posted): Promise<{ saved: Recorded[] } | Refusal> {
  const form = await readForm(principal, dispatches, posted);
  if ('problem' in form) return form;
  const { context, fields } = form;
  return recordTray(principal.book, context, { by: context.by, ...fields }, photoOf(principal, posted));
}
