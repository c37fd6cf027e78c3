import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';
import { clausesOf, isDenied } from './clauses.js';
import { wordSet } from './plain-words.js';

/** A piece of equipment as recorded. */
export interface EquipmentRecorded {
  readonly id: string;
  readonly what: string;
  readonly material: string;
  /** Solder, terneplate or galvanised parts, as typed. */
  readonly solder: string;
  readonly note: string;
}

/**
 * An advisory for each piece of equipment that may hold lead and was never tested. `tested` are the names of tested
 * equipment.
 */
export const judgeLeadRisk = (
  boil: string,
  equipment: readonly EquipmentRecorded[],
  tested: readonly string[],
): Finding[] =>
  equipment
    .filter((each) => mayHoldLead(each) && !isTested(each, tested) && !retired.test(`${each.what} ${each.note}`))
    .map(({ id, what, material, solder }) =>
      findingOf('lead-not-tested', {
        limit: 'a lead test of the equipment',
        found: `boil ${boil}: ${id}, ${what.trim()} (${[material, solder]
          .filter((text) => text.trim() !== '')
          .join('; ')
          .slice(0, 80)}), was never tested for lead. Test it, or syrup that went through it`,
      }),
    );

const isTested = ({ id, what }: EquipmentRecorded, tested: readonly string[]): boolean =>
  tested.some((name) => [id, what].some((own) => own.trim().toLowerCase() === name.trim().toLowerCase()));

/** Whether the record names a part that may hold lead and doesn't deny it: `lead-free solder`, `none`. */
function mayHoldLead({ what, material, solder }: EquipmentRecorded): boolean {
  return [what, material, solder].some((text) =>
    clausesOf(text).some((words) =>
      words.some((word, at) => leaded.has(word) && !isDenied(words, at, passed) && !isLeadFree(words)),
    ),
  );
}

const isLeadFree = (words: readonly string[]): boolean =>
  words.some((word, at) => (word === 'lead' && words[at + 1] === 'free') || word === 'leadfree') ||
  (words.includes('sans') && words.includes('plomb'));
const leaded = wordSet(
  'lead leaded solder soldered galvanised galvanized terne terneplate plomb soude soudee soudure soudures galvanise galvanisee',
);
const passed = wordSet('lead solder soldered galvanised galvanized parts terneplate');
const retired = /\b(?:retired|not used|no longer|scrapped|sold|thrown out|hors service)\b/iu;
