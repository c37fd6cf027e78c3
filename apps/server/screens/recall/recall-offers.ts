import { choiceText, type Offer } from '../../forms/field-view.js';

const offer = (value: string): Offer => ({ value, text: choiceText(value) });

/**
 * Choices for a recall form instead of typing, none preselected: common practice, no source. Who may be hurt is for the
 * authority or a physician to say where it is not plain.
 */
export const recallOffers: Readonly<Record<string, readonly Offer[]>> = {
  why: [
    'mould found by a buyer',
    'glass found in a jar',
    'an allergen that the label does not name',
    'an instrument found wrong',
    'the authority asked for it',
  ].map(offer),
  hazard: ['mould', 'glass or metal in the jar', 'an allergen', 'lead', 'spoilage'].map(offer),
  whoMayBeHurt: ['anybody who eats it', 'people with that allergy', 'small children first of all'].map(offer),
  whatToDo: [
    'set them apart, count them, keep them until we fetch them',
    'do not eat it; bring it back',
    'pour it away and tell us how many',
  ].map(offer),
};
