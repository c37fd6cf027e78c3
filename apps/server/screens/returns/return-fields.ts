import { choice, type Fields, required } from '#libs/actions/record/fields.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { kindNamed } from '#libs/actions/kinds/registry.js';

export const complaints: Kind = kindNamed('complaint');
export const holdAnswers = ['yes', 'no'] as const;

/** The fields of a complaint for a returned jar, and whether the lot is held. */
export const returnFields: Fields = {
  ...complaints.fields,
  hold: required(choice(...holdAnswers), {
    label: 'Hold the lot',
    choices: holdAnswers,
    hint: 'No jar of a held lot may be sent out until a maker releases it. If unsure, hold it',
  }),
};
