import { dispatches } from '#libs/actions/kinds/dispatch.js';
import { recordTray } from '#libs/actions/lots/record-tray.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import type { Recorded } from '#libs/actions/record/record.js';
import type { Posted } from '../../forms/field-view.js';
import { fieldsToWrite, takenPhoto } from '../../forms/write-record.js';
import type { Principal } from '../../http/principal.js';

/** Records jars scanned one after another, each for its own pack where no lot was picked. */
export async function writeTray(principal: Principal, posted: Posted): Promise<{ saved: Recorded[] } | Refusal> {
  const read = await fieldsToWrite(principal, dispatches, posted);
  if ('problem' in read) return read;
  const { context, fields } = read;
  return recordTray(principal.book, context, { by: context.by, ...fields }, takenPhoto(principal, posted));
}
