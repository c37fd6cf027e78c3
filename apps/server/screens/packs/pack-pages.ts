import { packFields, packUnderwayFields } from '#libs/actions/kinds/pack.js';
import { paperGroup } from '../boils/boil-pages.js';
import {
  type FormContext,
  formContext,
  formGroups,
  problemView,
  type SubmittedForm,
  withRemainingFields,
} from '../../forms/form-view.js';
import { emptyLotCodes, packSources } from '../../forms/lot-sources.js';
import { queryPair, withRemembered } from '../../forms/remembered.js';
import { cautionsFor } from '../../text/cautions.js';
import { mayWrite } from '../../http/may-write.js';
import type { Principal } from '../../http/principal.js';

/** The lots to draw from and, for a pack from paper, the codes of those with nothing left. */
async function paperPackChoices(principal: Principal, houseContext: FormContext) {
  const sources = await packSources(principal, houseContext);
  return {
    sources,
    empty: { fromLots: await emptyLotCodes(principal, ['boil', 'receipt'], sources['fromLots'] ?? []) },
  };
}

const detailsGroup = { folded: 'Your own lot number, initials, note', names: ['lot', 'id', 'by', 'note'] };

/**
 * The form that starts a pack; jar temperatures are added one at a time afterwards. It has only the fields that its
 * groups name: what is measured once jars are filled has its own form (`pack-steps.ts`).
 */
export async function startPackPage(principal: Principal, request: SubmittedForm = {}) {
  const houseContext = await formContext(principal);
  const { remembered, same, sent } = await withRemembered(principal, ['container', 'instruments'], request);
  const fields = { ...packUnderwayFields, by: { ...packUnderwayFields.by, needed: false } };
  return {
    title: 'Start a pack',
    here: 'packs',
    crumb: { href: '/packs', text: 'Packs' },
    sentence:
      'One lot is one filling run with identical jars and no cleaning in between. Next you enter the jar temperatures, one at a time.',
    cautions: cautionsFor('pack'),
    form: {
      action: '/packs/begin',
      submitLabel: 'Start filling',
      draft: 'begin-pack',
      same,
      keeps: queryPair('from', request.posted?.['fromLots']),
      problem: problemView(sent.problem, fields),
      groups: formGroups(
        fields,
        [
          { names: ['fromLots', 'packedAt'] },
          { legend: 'Jars', names: ['container', 'benchReady', 'containerPrep'] },
          { folded: 'Not pure maple syrup', names: ['product'] },
          {
            legend: 'Syrup',
            text: 'Only what was read. You can add more later.',
            names: ['hotPackTemp', 'densityReading', 'densityAt', 'densityBy', 'instruments'],
          },
          { folded: 'A hydrometer made for another temperature', names: ['densityCalibratedAt'] },
          detailsGroup,
        ],
        houseContext,
        sent,
        { when: 'live', remembered, sources: await packSources(principal, houseContext) },
      ),
    },
    alternative: mayWrite(principal, 'pack')
      ? { href: '/packs/finished', text: 'Enter a finished pack from paper' }
      : undefined,
  };
}

/** The form for a finished pack from paper. */
export async function finishedPackPage(principal: Principal, request: SubmittedForm = {}) {
  const houseContext = await formContext(principal);
  const { remembered, same, sent } = await withRemembered(principal, ['container', 'instruments'], request);
  const fields = { ...packFields, by: { ...packFields.by, needed: false } };
  return {
    title: 'A pack from paper',
    here: 'packs',
    crumb: { href: '/packs', text: 'Packs' },
    sentence: 'Copy the sheet as it is. Leave blank what was not read. Boilbook records how late it was entered.',
    form: {
      action: '/packs/finished',
      takesPhoto: true,
      submitLabel: 'Save',
      draft: 'whole-pack',
      same,
      problem: problemView(sent.problem, fields),
      groups: [
        ...formGroups(
          fields,
          withRemainingFields(
            fields,
            [
              { legend: 'The pack', names: ['packedAt', 'fromLots', 'container', 'jars'] },
              { legend: 'At the bench', names: ['benchReady', 'containerPrep', 'benchFilled'] },
              { legend: 'In the jar, when capped', names: ['fillTemps', 'hotPackTemp'] },
              {
                legend: 'Density',
                names: ['densityReading', 'densityAt', 'densityBy', 'densityCalibratedAt', 'instruments'],
              },
              { legend: 'Seals', names: ['sealsFailed', 'sealsOutcome', 'sealsAt'] },
              { folded: 'Not pure maple syrup', names: ['product'] },
              { legend: 'Colour and looks', names: ['transmittance', 'colourClass', 'clarity', 'offFlavour', 'mould'] },
              detailsGroup,
            ],
            ['thermometerCheck'],
          ),
          houseContext,
          sent,
          { when: 'paper', remembered, ...(await paperPackChoices(principal, houseContext)) },
        ),
        paperGroup(sent),
      ],
    },
  };
}
