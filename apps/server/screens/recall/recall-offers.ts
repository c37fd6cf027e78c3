import { historyOf } from '#libs/store/log/log.js';
import { choiceText, type Offer } from '../../forms/field-view.js';
import { type Principal, readerOf } from '../../http/principal.js';

const offer = (value: string): Offer => ({ value, text: choiceText(value) });

/**
 * Choices for a recall form instead of typing, none preselected: common practice, no source. Who may be hurt is for the
 * authority or a physician to say where it is not plain.
 */
const recallOffers: Readonly<Record<string, readonly Offer[]>> = {
  why: [
    'mould found by a buyer',
    'glass found in a jar',
    'an allergen that the label does not name',
    'an instrument found wrong',
    'the authority asked for it',
  ].map(offer),
  hazard: ['mould', 'glass or metal in the jar', 'an allergen', 'lead', 'spoilage'].map(offer),
  whoMayBeHurt: ['anybody who eats it', 'people with that allergy', 'small children above all'].map(offer),
  whatToDo: [
    'set them apart, count them, keep them until we fetch them',
    'do not eat it; bring it back',
    'pour it away and tell us how many',
  ].map(offer),
};

/**
 * The same, and before them the reasons for which these lots were held or recalled earlier, newest first, in the words
 * recorded then. They are offered and not filled in: whether it is the reason now is for the person to say.
 */
export async function recallOffersFor(
  principal: Principal,
  codes: readonly string[],
): Promise<Readonly<Record<string, readonly Offer[]>>> {
  const histories = await Promise.all(codes.slice(0, maxLots).map((code) => historyOf(readerOf(principal), code)));
  const reasons = histories
    .flat()
    .filter(({ entryType, why }) => (entryType === 'hold' || entryType === 'recall') && (why ?? '') !== '')
    .sort((one, other) => other.seq - one.seq)
    .map(({ why }) => why ?? '');
  const earlier = [...new Set(reasons)].slice(0, maxReasons).map((why) => ({ value: why, text: why }));
  return { ...recallOffers, why: [...earlier, ...(recallOffers['why'] ?? [])] };
}

/** A recall of a thermometer's lots may begin from hundreds: their reason is the thermometer. */
const maxLots = 20;
const maxReasons = 3;
