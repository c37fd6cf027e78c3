import { recordsOf } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { dangerousMixture, notRinsed } from '#libs/syrup/contents/cleaning-words.js';

type Cleaning = Readonly<Record<string, unknown>>;

/**
 * Cleaners that give off toxic gas when mixed, in one cleaning or in two without a rinse between: `acid` or `ammonia`
 * with bleach.
 */
export async function mixedCleaners(
  { sql, sugarhouse }: { readonly sql: Sql; readonly sugarhouse: string },
  cleaning: Cleaning,
  at: string,
): Promise<Mixture | undefined> {
  const word = (of: Cleaning, name: string): string => (typeof of[name] === 'string' ? of[name] : '');
  const what = word(cleaning, 'what').trim().toLowerCase();
  const before = (await recordsOf({ sql, sugarhouse }, 'cleaning', Number(at.slice(0, 4)))).findLast(
    ({ body }) => Date.parse(body.at) < Date.parse(at) && word(body, 'what').trim().toLowerCase() === what,
  )?.body;
  // Between two cleanings the equipment counts as rinsed only where that was recorded.
  const rinsed =
    before !== undefined &&
    (word(before, 'wasRinsed') === 'yes' || word(before, 'rinsed') !== '') &&
    !notRinsed(word(before, 'wasRinsed'), word(before, 'rinsed'));
  const own = dangerousMixture([word(cleaning, 'with'), word(cleaning, 'note')].join(' '));
  const both =
    before === undefined || rinsed ? undefined : dangerousMixture(`${word(before, 'with')} ${word(cleaning, 'with')}`);
  return own ?? both;
}
type Mixture = keyof typeof warnings;

/** The warning shown at once to the person who cleans. */
export const cleaningNotes = (mixed: Mixture | undefined): string[] => (mixed === undefined ? [] : [warnings[mixed]]);

/** The usual caution, from memory; the bottles carry it too. */
const warnings = {
  acid: 'Bleach and vinegar or another acid give off chlorine, which can kill. Never mix them or use one after the other without rinsing well between. If you smell it, go out into the air at once and call poison control or a doctor (usual caution, from memory).',
  ammonia:
    'Bleach and ammonia give off chloramine, which can kill. Never mix them or use one after the other without rinsing well between. If you smell it, go out into the air at once and call poison control or a doctor (usual caution, from memory).',
} as const;
