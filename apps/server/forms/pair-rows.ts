import { jarSizes } from '#libs/actions/calculators/amounts.js';
import { panReadings } from '#libs/actions/calculators/thickening.js';
import type { PairView } from '#pages/parts/field-view.js';
import { firstText, type Posted } from './posted.js';
import { withUnit } from './with-unit.js';

interface Pairs extends Omit<PairView, 'rows'> {
  /** Both boxes as one text, in the notation of programs and the command line. */
  readonly join: (first: string, second: string) => string;
}

/** Lists whose items have two parts: a page has a box for each part. */
const pairsByReader = new Map<unknown, Pairs>([
  [
    panReadings,
    {
      unitLabel: 'Temperatures in',
      first: 'Temperature',
      second: 'When it was read',
      between: 'at',
      isTime: true,
      join: (degrees, clock) => `${degrees}@${clock.slice(0, 5)}`,
    },
  ],
  [
    jarSizes,
    {
      unitLabel: 'Sizes in',
      first: 'Size of the jar',
      second: 'How many',
      between: '×',
      isTime: false,
      join: (size, count) => (count === '' ? size : `${size} x ${count}`),
    },
  ],
]);

/** Whether a field with this reader is a list of pairs. */
export const isPairs = (read: unknown): boolean => pairsByReader.has(read);

const maxRows = [1, 2, 3, 4] as const;
const box = (name: string, n: number, part: 'first' | 'second'): string => `${name}~pair~${n}~${part}`;

/** The boxes of a list of pairs as they were filled, blank ones too. */
export function pairView(name: string, read: unknown, posted: Posted): PairView | undefined {
  const pairs = pairsByReader.get(read);
  if (!pairs) return undefined;
  const { join: _, ...texts } = pairs;
  const rows = maxRows.map((n) => ({
    n,
    first: firstText(posted[box(name, n, 'first')]),
    second: firstText(posted[box(name, n, 'second')]),
  }));
  return { ...texts, rows };
}

/** A list of pairs as one text; blank where no box was filled. */
export function pairsText(name: string, read: unknown, posted: Posted): string {
  const pairs = pairsByReader.get(read);
  const unit = firstText(posted[`${name}~unit`]);
  return (pairView(name, read, posted)?.rows ?? [])
    .filter(({ first, second }) => first + second !== '')
    .map(({ first, second }) => pairs?.join(withUnit(first, unit), second))
    .join('; ');
}
