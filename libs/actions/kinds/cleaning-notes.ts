import { recordsOf } from '#libs/store/queries/lots.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { dangerousMixture, isUnrinsed } from '#libs/syrup/free-text/cleaning-text.js';

type Cleaning = Readonly<Record<string, unknown>>;

/**
 * Cleaners that give off toxic gas when mixed, in one cleaning or in two without a rinse between: `acid` or `ammonia`
 * with bleach.
 */
export async function findDangerousMixture(
  reader: SugarhouseReader,
  cleaning: Cleaning,
  at: string,
): Promise<Mixture | undefined> {
  const textField = (of: Cleaning, name: string): string => (typeof of[name] === 'string' ? of[name] : '');
  const what = textField(cleaning, 'what').trim().toLowerCase();
  const previous = (await recordsOf(reader, 'cleaning', Number(at.slice(0, 4)))).findLast(
    ({ body }) => Date.parse(body.at) < Date.parse(at) && textField(body, 'what').trim().toLowerCase() === what,
  )?.body;
  // Between two cleanings the equipment counts as rinsed only where that was recorded.
  const rinsed =
    previous !== undefined &&
    (textField(previous, 'wasRinsed') === 'yes' || textField(previous, 'rinsed') !== '') &&
    !isUnrinsed(textField(previous, 'wasRinsed'), textField(previous, 'rinsed'));
  const mixedNow = dangerousMixture([textField(cleaning, 'with'), textField(cleaning, 'note')].join(' '));
  const mixedWithPrevious =
    previous === undefined || rinsed
      ? undefined
      : dangerousMixture(`${textField(previous, 'with')} ${textField(cleaning, 'with')}`);
  return mixedNow ?? mixedWithPrevious;
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
