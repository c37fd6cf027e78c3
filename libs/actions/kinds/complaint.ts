import {
  type ReturnedJarJudged,
  judgeReturnedJar,
  sealAnswers,
  smellAnswers,
} from '#libs/syrup/contents/judge-complaint.js';
import { arrivalAnswers, mouldAnswers } from '#libs/syrup/contents/judge-spoilage.js';
import { hydrometerTemperature } from '#libs/syrup/instruments/hydrometer-temperature.js';
import type { SugarhouseContext } from '../record/write-context.js';
import {
  type BodyOf,
  choice,
  density,
  type Field,
  optional,
  required,
  withDefault,
  instrumentsField,
  signature,
  pastMoment,
  ownId,
  temperature,
  text,
  freeText,
} from '../record/fields.js';

/** One of the listed terms; other text in an older book stays as it is. */
const choiceOrText =
  (choices: readonly string[]): Field<string>['read'] =>
  (typed, options) => {
    const found = choice(...choices)(typed, options);
    return found.mismatch ? text(typed, options) : found;
  };

/** What the maker observes on the jar itself. */
export const returnedJarFields = {
  mould: optional(choice(...mouldAnswers), {
    label: 'Mould',
    choices: mouldAnswers,
    hint: '“Yes” and “not known” hold the lot until it is inspected, unless the jar was opened and kept warm. If blank, a maker has to say whether the complaint means spoilage, unless it is clearly praise, an order, a price or a label',
  }),
  came: optional(choice(...arrivalAnswers), {
    label: 'How the jar came',
    choices: arrivalAnswers,
    hint: 'Mould in a jar that was opened and kept warm does not mean that other jars have it',
  }),
  seal: withDefault(choiceOrText(sealAnswers), '', { label: 'Seal', choices: sealAnswers }),
  smell: withDefault(choiceOrText(smellAnswers), '', { label: 'Smell', choices: smellAnswers }),
  density: optional(density, { label: 'Density now', example: '66.4 Bx' }),
  densityAt: optional(temperature, {
    label: 'Sample temperature',
    example: '68 F',
    hint: 'Read with the density, at the same moment',
  }),
  densityBy: optional(choice('hydrometer', 'refractometer', 'refractometer-atc'), {
    label: 'Density read with',
    choices: ['hydrometer', 'refractometer', 'refractometer-atc'],
    hint: 'A refractometer with ATC corrects for temperature itself; in files, refractometer-atc',
  }),
  densityCalibratedAt: optional(temperature, {
    label: 'Hydrometer made for',
    example: '60 F',
    hint: 'If blank, as the sugarhouse recorded of its hydrometers',
  }),
};

/** A customer's or maker's report of a jar, and what the maker observes on it now. */
export const complaintFields = {
  id: optional(ownId, { label: 'Id', hint: 'Leave blank for the next one' }),
  at: optional(pastMoment, { label: 'When', example: '2026-03-01T09:00', hint: 'If blank, now' }),
  by: withDefault(signature, '', { label: 'By', example: 'WE' }),
  lot: optional(text, { label: 'Lot', example: '26077A-1', hint: 'If blank, the lot of the jar' }),
  jar: freeText({
    label: 'Jar',
    example: 'K7QM-3XWT',
    hint: 'Its code, or its number in the lot; blank if not known',
  }),
  from: freeText({ label: 'From whom' }),
  said: required(text, { label: 'What the customer said', example: 'mould on top' }),
  ...returnedJarFields,
  instruments: instrumentsField,
  done: freeText({ label: 'What was done' }),
  note: freeText({ label: 'Note' }),
};

/** The verdict on a complaint's jar; stored with it, so that replay does not recompute it. */
export function judgeComplaint(
  jar: BodyOf<typeof returnedJarFields>,
  { place, house }: Pick<SugarhouseContext, 'place' | 'house'>,
): ReturnedJarJudged {
  const { seal, mould, came, smell, density, densityAt, densityBy, densityCalibratedAt } = jar;
  return judgeReturnedJar(
    {
      seal,
      mould,
      came,
      smell,
      density: density && {
        reading: density,
        sampleAt: densityAt,
        by: densityBy,
        calibratedAt: densityCalibratedAt,
        hydrometersMadeFor: hydrometerTemperature(house?.hydrometerMadeFor),
      },
    },
    place,
  );
}
