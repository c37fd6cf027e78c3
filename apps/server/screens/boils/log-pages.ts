import { drawFields } from '#libs/actions/kinds/draw.js';
import type { Fields } from '#libs/actions/record/fields.js';
import { lineFields } from '#libs/actions/kinds/boil-line.js';
import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import { boilUnderwayFields } from '#libs/actions/kinds/boil.js';
import { volumeText } from '#libs/format/format-house-volume.js';
import { findLot, findRecord, recordsAbout } from '#libs/store/queries/lots.js';
import { formContext, formGroups, problemView, type GroupOptions, type SubmittedForm } from '../../forms/form-view.js';
import type { Measures } from '../../forms/units.js';
import { withRemembered } from '../../forms/remembered.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import type { Caution, CautionPlace } from '#libs/actions/places/cautions.js';
import { cautionsFor } from '../../text/cautions.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { recordedValues } from '../../forms/recorded-values.js';
import { boilSources } from '../../forms/lot-sources.js';

/** One button of the boil's log: its fields and its label. */
export interface LogStep {
  readonly title: string;
  readonly submitLabel: string;
  readonly sentence?: string;
  /** `line` of the log, `draw`-off, or something `add`ed to the boil's own record. */
  readonly as: 'line' | 'draw' | 'add';
  readonly line?: string;
  readonly groups: readonly GroupOptions[];
  readonly caution?: CautionPlace;
}

const detailsGroup = { folded: 'Instruments, initials, note', names: ['instruments', 'by', 'note'] };
const instrumentGroup = { folded: 'Instrument', names: ['instruments'] };

export const logSteps: Readonly<Record<string, LogStep>> = {
  reading: {
    title: 'Reading',
    submitLabel: 'Save',
    sentence: 'A thermometer only shows when to test; a hydrometer or refractometer decides.',
    as: 'line',
    line: 'reading',
    groups: [{ names: ['temperature', 'density', 'spoon'] }, { names: ['pan', 'at'] }, detailsGroup],
    caution: 'boil',
  },
  cup: {
    title: 'Hot cup',
    submitLabel: 'Save',
    sentence:
      'A fresh sample, hydrometer and thermometer read at the same moment. It doesn’t change “to go”, which comes from the temperature in the pan.',
    as: 'line',
    line: 'hot-cup',
    groups: [{ names: ['density', 'sampleTemp'] }, { names: ['at'] }, detailsGroup],
    caution: 'boil',
  },
  skim: {
    title: 'Skimmed',
    submitLabel: 'Save',
    as: 'line',
    line: 'skimmed',
    groups: [{ names: ['pan', 'note', 'at'] }, { folded: 'Initials', names: ['by'] }],
  },
  pan: {
    title: 'Moved between pans',
    submitLabel: 'Save',
    as: 'line',
    line: 'pan-to-pan',
    groups: [{ names: ['pan', 'note', 'at'] }, { folded: 'Initials', names: ['by'] }],
  },
  fire: {
    title: 'Wood added',
    submitLabel: 'Save',
    as: 'line',
    line: 'fire',
    groups: [{ names: ['note', 'at'] }, { folded: 'Initials', names: ['by'] }],
    caution: 'boil',
  },
  note: {
    title: 'Note',
    submitLabel: 'Save',
    as: 'line',
    line: 'note',
    groups: [{ names: ['note', 'at'] }, { folded: 'Initials', names: ['by'] }],
  },
  draw: {
    title: 'Draw off',
    submitLabel: 'Save draw-off',
    as: 'draw',
    groups: [
      { names: ['volume', 'temp', 'drawnAt'] },
      { legend: 'How did it filter?', names: ['filterTemp', 'filterMedium', 'vessel'] },
      { folded: 'Instruments, your own lot number, initials', names: ['instruments', 'id', 'by'] },
    ],
    caution: 'boil',
  },
  sap: {
    title: 'Sap in',
    submitLabel: 'Save',
    as: 'add',
    sentence: 'Which sap went in, and how much.',
    groups: [{ names: ['gatherings'] }],
  },
  water: {
    title: 'Boiling point of water today',
    submitLabel: 'Save',
    as: 'add',
    sentence: 'Read it in a pan of plain water at a rolling boil. Today’s finishing temperature is calculated from it.',
    groups: [{ names: ['waterBoilsAt'] }, instrumentGroup],
  },
  defoamer: {
    title: 'Defoamer',
    submitLabel: 'Save',
    as: 'add',
    sentence: 'Enter which one, and the allergens on its label.',
    groups: [{ names: ['defoamer', 'defoamerAllergens'] }],
  },
  allergens: {
    title: 'Allergens of the defoamer',
    submitLabel: 'Save',
    as: 'add',
    sentence: 'As on its label; “none” is an answer.',
    groups: [{ names: ['defoamerAllergens'] }],
  },
  filter: {
    title: 'Filter',
    submitLabel: 'Save',
    as: 'add',
    groups: [{ names: ['filterTemp', 'filterMedium'] }, instrumentGroup],
    caution: 'filter',
  },
  off: {
    title: 'End boil',
    submitLabel: 'End boil',
    as: 'add',
    sentence: 'The amount of syrup can be measured and entered later.',
    groups: [{ names: ['finishedAt'] }],
    caution: 'boil',
  },
  rest: {
    title: 'Start rest',
    submitLabel: 'Start rest',
    as: 'add',
    sentence: 'About 12 h lets the sediment settle: common practice, no source.',
    groups: [{ names: ['restedFrom'] }],
  },
  rested: { title: 'End rest', submitLabel: 'End rest', as: 'add', groups: [{ names: ['restedUntil'] }] },
  finish: {
    title: 'Syrup made',
    submitLabel: 'End boil',
    as: 'add',
    groups: [
      { names: ['syrupVolume', 'finishedAt'] },
      { legend: 'Read at the draw-off', names: ['finishTemp', 'instruments'] },
    ],
    caution: 'boil',
  },
};

/** The fields of a step of the boil's log: those of a log line, a draw-off or the boil itself. */
export const stepFields = (step: LogStep): Fields =>
  step.as === 'line'
    ? lineFields
    : step.as === 'draw'
      ? { ...drawFields, id: { ...drawFields.id, needed: false } }
      : boilUnderwayFields;

/** The form of one step of a boil's log; a refusal where there is no such boil or step. */
export async function logPage(principal: Principal, code: string, what: string, request: SubmittedForm = {}) {
  const step = Object.hasOwn(logSteps, what) ? logSteps[what] : undefined;
  const names = step?.groups.flatMap((group) => group.names) ?? [];
  const rememberedFields = rememberedLogFields.filter((name) => names.includes(name));
  const { remembered, same, sent } = await withRemembered(principal, rememberedFields, request);
  const seen = await lastSeenFor(principal, sent.problem, code);
  const lot = await findLot(readerOf(principal), code);
  if (!step || lot?.kind !== 'boil')
    return unknown(step ? 'boil' : 'line of the log', step ? code : what) satisfies Refusal;
  const houseContext = await formContext(principal);
  const fields = what === 'cup' ? cupFields : stepFields(step);
  // A value that is already recorded is corrected, with a reason, and not asked again.
  const boil = step.as === 'add' ? await findRecord(readerOf(principal), 'boil', code) : undefined;
  const isOpen = (name: string): boolean => repeatableFields.has(name) || boil?.typed[name] === undefined;
  const recorded = boil
    ? recordedValues(principal, boil, {
        ...{ kind: 'boil', id: code, fields: boilUnderwayFields },
        names: names.filter((name) => !isOpen(name)),
      })
    : [];
  const cautions: readonly Caution[] = step.caution ? cautionsFor(step.caution) : [];
  return {
    title: `${step.title}, ${code}`,
    here: 'boils',
    crumb: { href: `/lots/${code}`, text: code },
    sentence: what === 'finish' ? await measuredSentence(principal, code, houseContext.measures) : step.sentence,
    recorded,
    cautions,
    form: !names.some((name) => isOpen(name) && name !== 'instruments')
      ? undefined
      : {
          action: `/boils/${code}/log/${what}`,
          takesPhoto: true,
          // The syrup may be measured after the boil ended.
          submitLabel: what === 'finish' && !isOpen('finishedAt') ? 'Save' : step.submitLabel,
          draft: `${what}-${code}`,
          same,
          ...seen,
          problem: problemView(sent.problem, fields),
          groups: formGroups(
            fields,
            step.groups.map((group) => ({ ...group, names: group.names.filter(isOpen) })),
            houseContext,
            sent,
            {
              when: 'live',
              remembered,
              sources: what === 'sap' ? await boilSources(principal, houseContext) : {},
              needed: requiredFieldsOfStep[what] ?? [],
            },
          ),
        },
  };
}

/** Asks for the syrup that was made; what was drawn off so far is there to compare, measured before it was filtered. */
async function measuredSentence(principal: Principal, code: string, { volumes, canada }: Measures): Promise<string> {
  const draws = await recordsAbout(readerOf(principal), code, 'draw');
  const drawnMl = draws.reduce((sum, draw) => sum + draw.body.volume.millilitres, 0);
  const drawn = draws.length > 0 ? ` Drawn off so far: ${volumeText(drawnMl, volumes, canada)}.` : '';
  return `How much syrup there is, measured.${drawn} Never leave the pan while it is near.`;
}

/** In the cup the hydrometer is used; refractometer readings have the form for a density. */
const cupFields: Fields = {
  ...lineFields,
  density: { ...lineFields.density, label: 'Hydrometer reads', example: '59.5 Bx' },
};

/** Boxes of the log that offer earlier values. */
const rememberedLogFields = ['pan', 'filterMedium', 'vessel', 'instruments', 'defoamer'] as const;

/** Sap is added repeatedly. */
const repeatableFields = new Set(['gatherings']);

/** The field with the time of a one-tap step. */
export const timeFieldOfStep: Readonly<Record<string, string>> = {
  fire: 'at',
  pan: 'at',
  skim: 'at',
  off: 'finishedAt',
  rest: 'restedFrom',
  rested: 'restedUntil',
};

/** A step's own field is required here, though it is optional in the record. */
export const requiredFieldsOfStep: Readonly<Record<string, readonly string[]>> = {
  cup: ['density', 'sampleTemp'],
  sap: ['gatherings'],
  water: ['waterBoilsAt'],
  defoamer: ['defoamer'],
  allergens: ['defoamerAllergens'],
  finish: ['syrupVolume'],
};
