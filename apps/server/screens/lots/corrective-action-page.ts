import { actionFields } from '#libs/actions/kinds/corrective-action.js';
import type { Fields } from '#libs/actions/record/fields.js';
import { findLot } from '#libs/store/queries/lots.js';
import { clearanceOf } from '#libs/syrup/rules/rules.js';
import { actionOffers } from './action-offers.js';
import { formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { cautionsFor } from '../../text/cautions.js';
import { usualCauses } from '../../text/usual-causes.js';

/** The kind of action describes what was done, so more text is required only for some kinds. */
const actFields: Fields = {
  ...actionFields,
  done: { ...actionFields.done, needed: false, label: 'What was done, in more detail' },
};

/** The form for a corrective action: what was found, what was done, and the readings that show it worked. */
export async function correctiveActionPage(principal: Principal, code: string, sent: SubmittedForm = {}) {
  const seen = await lastSeenFor(principal, sent.problem, code);
  const houseContext = await formContext(principal);
  const lot = await findLot(readerOf(principal), code);
  const remembered = lot ? await actionOffers(principal, lot) : {};
  const isMould = lot?.verdict?.findings.some(({ stop, rule }) => stop && rule.startsWith('mould'));
  const needsReadings = lot?.verdict?.findings.some(
    ({ stop, rule }) => stop && clearanceOf(rule) === 'evidence' && !rule.startsWith('mould'),
  );
  return {
    title: `Corrective action on ${code}`,
    here: 'packs',
    crumb: { href: `/lots/${code}`, text: code },
    sentence:
      'The lot is judged again by the new readings; the old ones stay in the history. A maker can then release it.',
    cautions: cautionsFor('pack', 'seal'),
    form: {
      action: `/lots/${code}/act`,
      takesPhoto: true,
      submitLabel: 'Save',
      draft: `act-${code}`,
      ...seen,
      problem: problemView(sent.problem, actionFields),
      groups: formGroups(
        { ...actFields, cause: { ...actionFields.cause, suggestions: usualCauses(lot) } },
        [
          { names: ['found', 'way', 'cause', 'jars', 'done'] },
          { folded: 'When', names: ['at'] },
          {
            ...(isMould
              ? { legend: 'Mould: other jars opened and inspected' }
              : { folded: 'Mould: other jars inspected' }),
            names: ['mould', 'jarsMouldy', 'jarsSound'],
          },
          {
            ...(needsReadings ? { legend: 'New readings' } : { folded: 'New readings' }),
            text: 'Only what was read again. Syrup that was boiled again needs its density read again.',
            names: [
              'fillTemps',
              'hotPackTemp',
              'densityReading',
              'densityAt',
              'densityBy',
              'densityCalibratedAt',
              'instruments',
            ],
          },
          {
            folded: 'Seals, looks, taste, allergens',
            names: ['sealsFailed', 'sealsOutcome', 'sealsAt', 'clarity', 'offFlavour', 'defoamerAllergens', 'by'],
          },
        ],
        houseContext,
        sent,
        { when: 'live', remembered },
      ),
    },
  };
}
