import { required, text } from '#libs/actions/record/fields.js';
import { boilFields, boilUnderwayFields } from '#libs/actions/kinds/boil.js';
import { type FormContext, formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import type { FieldView } from '#pages/parts/field-view.js';
import { boilSources, emptyLotCodes } from '../../forms/lot-sources.js';
import { withRemembered } from '../../forms/remembered.js';
import { cautionsFor } from '../../text/cautions.js';
import { mayWrite } from '../../http/may-write.js';
import type { Principal } from '../../http/principal.js';

/** What can be boiled and, for a boil from paper, the codes of gatherings and receipts with nothing left. */
async function paperBoilChoices(principal: Principal, houseContext: FormContext) {
  const sources = await boilSources(principal, houseContext);
  return {
    sources,
    empty: { gatherings: await emptyLotCodes(principal, ['gathering', 'receipt'], sources['gatherings'] ?? []) },
  };
}

/** The form that starts a boil; `request` holds what was posted and the problem it had. */
export async function startBoilPage(principal: Principal, request: SubmittedForm = {}) {
  const { remembered, same, sent } = await withRemembered(principal, ['defoamer'], request);
  const houseContext = await formContext(principal);
  const fields = { ...boilUnderwayFields, by: { ...boilUnderwayFields.by, needed: false } };
  return {
    title: 'Start a boil',
    here: 'boils',
    crumb: { href: '/boils', text: 'Boils' },
    sentence: 'Each boil is a lot and gets a lot code now. Add to its log as you go.',
    cautions: cautionsFor('boil'),
    form: {
      action: '/boils/begin',
      submitLabel: 'Start boil',
      draft: 'begin-boil',
      same,
      problem: problemView(sent.problem, fields),
      groups: formGroups(
        fields,
        [
          { names: ['beganAt', 'gatherings'] },
          {
            legend: 'Today’s finishing temperature',
            text: 'Boil a pan of water and read its temperature: the finishing temperature changes with the weather. Leave blank until it is read.',
            names: ['waterBoilsAt'],
          },
          {
            folded: 'Left in the pans, sap boiled, sugar, defoamer',
            names: ['carriedFrom', 'sapVolume', 'sapSugar', 'defoamer', 'defoamerAllergens'],
          },
          { folded: 'Your own lot number, initials, note', names: ['lot', 'id', 'by', 'note'] },
        ],
        houseContext,
        sent,
        { when: 'live', remembered, sources: await boilSources(principal, houseContext) },
      ),
    },
    alternative: mayWrite(principal, 'boil')
      ? { href: '/boils/finished', text: 'Enter a finished boil from paper' }
      : undefined,
  };
}

/** The form for a finished boil from paper. */
export async function finishedBoilPage(principal: Principal, request: SubmittedForm = {}) {
  const houseContext = await formContext(principal);
  const { remembered, same, sent } = await withRemembered(
    principal,
    ['filterMedium', 'instruments', 'defoamer'],
    request,
  );
  const fields = { ...boilFields, by: { ...boilFields.by, needed: false } };
  return {
    title: 'A boil from paper',
    here: 'boils',
    crumb: { href: '/boils', text: 'Boils' },
    sentence: 'Copy the sheet as it is. Leave blank what was not read. Boilbook records how late it was entered.',
    form: {
      action: '/boils/finished',
      takesPhoto: true,
      submitLabel: 'Save',
      draft: 'whole-boil',
      same,
      problem: problemView(sent.problem, fields),
      groups: [
        ...formGroups(
          fields,
          [
            { legend: 'The boil', names: ['beganAt', 'finishedAt', 'gatherings', 'carriedFrom', 'syrupVolume'] },
            { legend: 'Readings', names: ['sapVolume', 'sapSugar', 'waterBoilsAt', 'finishTemp', 'instruments'] },
            { legend: 'Filter and rest', names: ['filterTemp', 'filterMedium', 'restedFrom', 'restedUntil'] },
            { legend: 'Defoamer', names: ['defoamer', 'defoamerAllergens'] },
            { folded: 'Your own lot number, initials, note', names: ['lot', 'id', 'by', 'note'] },
          ],
          houseContext,
          sent,
          { when: 'paper', remembered, ...(await paperBoilChoices(principal, houseContext)) },
        ),
        paperGroup(sent),
      ],
    },
  };
}

/** Marks the entry as copied from paper. */
export function paperGroup({ posted }: SubmittedForm) {
  const field = required(text, { label: 'Copied from paper' });
  const view: FieldView = {
    name: 'fromPaper',
    control: 'tick',
    label: field.label,
    hint: 'The entry will say so. Keep the sheet.',
    example: '',
    needed: false,
    typed: posted === undefined || posted['fromPaper'] ? 'yes' : '',
    units: [],
    choices: [],
    portions: [],
    fault: undefined,
    ago: undefined,
  };
  return { fields: [view] };
}
