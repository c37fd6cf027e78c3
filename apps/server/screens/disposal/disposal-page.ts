import { disposalFields } from '#libs/actions/kinds/disposal.js';
import { findLot } from '#libs/store/queries/lots.js';
import { drawnFrom } from '#libs/store/queries/trace.js';
import { formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import type { Principal } from '../../http/principal.js';
import { volumeText } from '#libs/format/format-house-volume.js';

/** Records sap that soured and syrup that was used or spilt, so that the amount left is right. */
export async function disposalPage(principal: Principal, code: string, sent: SubmittedForm = {}) {
  const seen = await lastSeenFor(principal, sent.problem, code);
  const houseContext = await formContext(principal);
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const lot = await findLot({ sql: read, sugarhouse }, code);
  const left = Math.max(0, (lot?.millilitres ?? 0) - (await drawnFrom({ sql: read, sugarhouse }, code)));
  const { volumes, canada } = houseContext.measures;
  return {
    title: `Used or thrown out of ${code}`,
    here: 'boils',
    crumb: { href: `/lots/${code}`, text: code },
    sentence: `${volumeText(left, volumes, canada)} left by the records. Syrup that goes into jars is recorded as a pack, not here.`,
    form: {
      action: `/lots/${code}/disposal`,
      submitLabel: 'Save',
      draft: `use-up-${code}`,
      ...seen,
      problem: problemView(sent.problem, disposalFields),
      groups: formGroups(
        disposalFields,
        [{ names: ['how', 'volume', 'why'] }, { folded: 'When, own number, initials', names: ['at', 'id', 'by'] }],
        houseContext,
        sent,
        { when: 'live' },
      ),
    },
  };
}
