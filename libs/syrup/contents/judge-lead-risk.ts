import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';
import { clausesOf, isNegated } from '../free-text/clauses.js';
import { wordSet } from '../free-text/normalize-text.js';

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
 * An advisory for each piece of equipment that may contain lead and was never tested. `tested` are the names or ids of
 * tested equipment.
 */
export const judgeLeadRisk = (
  boil: string,
  equipment: readonly EquipmentRecorded[],
  tested: readonly string[],
): Finding[] =>
  equipment
    .filter((each) => mayContainLead(each) && !isTested(each, tested) && !retired.test(`${each.what} ${each.note}`))
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

/** Whether the record names a part that may contain lead: `lead solder`; not `lead-free solder` or `no solder`. */
function mayContainLead({ what, material, solder }: EquipmentRecorded): boolean {
  return [what, material, solder].some((text) =>
    clausesOf(text).some((words) =>
      words.some((word, at) => leadWords.has(word) && !isNegated(words, at, skippedBeforeLead) && !isLeadFree(words)),
    ),
  );
}

const isLeadFree = (words: readonly string[]): boolean =>
  words.some((word, at) => (word === 'lead' && words[at + 1] === 'free') || word === 'leadfree') ||
  (words.includes('sans') && words.includes('plomb'));
const leadWords = wordSet(
  'lead leaded solder soldered galvanised galvanized terne terneplate plomb soude soudee soudure soudures galvanise galvanisee',
);
const skippedBeforeLead = wordSet('lead solder soldered galvanised galvanized parts terneplate');
const retired = /\b(?:retired|not used|no longer|scrapped|sold|thrown out|hors service)\b/iu;
