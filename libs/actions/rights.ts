import type { RecordKind } from '#libs/records/entry.js';
import type { Kind } from './kind.js';
import { packsUnderway } from './pack-syrup.js';
import { boilsUnderway } from './record-boil.js';

/** The lowest role that may write something. A packer may do what a maker may. */
export type Writer = 'helper' | 'maker' | 'owner';

/**
 * Who may write what, for page and API alike. Helpers write what they did and read at the bench: readings, steps,
 * counts. What comes in or goes out, how a lot stands and what the house vouches for is for makers.
 */
export const rights = {
  gathering: 'helper',
  line: 'helper',
  draw: 'helper',
  count: 'helper',
  spent: 'helper',
  check: 'helper',
  cleaning: 'helper',
  filter: 'helper',
  labels: 'helper',
  'boil underway': 'helper',
  'pack underway': 'helper',
  boil: 'maker',
  pack: 'maker',
  receipt: 'maker',
  dispatch: 'maker',
  action: 'maker',
  complaint: 'maker',
  stock: 'maker',
  instrument: 'maker',
  equipment: 'maker',
  supply: 'maker',
  'water-test': 'maker',
  training: 'maker',
  licence: 'maker',
  'practice-recall': 'maker',
  mark: 'maker', // hold, release, recall
  correction: 'maker',
  import: 'maker',
  'for another': 'maker', // sign with initials that are not one's own
  season: 'owner',
  house: 'owner',
} as const satisfies Readonly<Record<RecordKind | Beside, Writer>>;

type Beside = 'boil underway' | 'pack underway' | 'mark' | 'correction' | 'import' | 'for another';

/** Who may write a record of this kind; a boil or a pack as it goes is another right than a whole one. */
export function rightTo(kind: Kind): Writer {
  if (kind === boilsUnderway) return rights['boil underway'];
  return kind === packsUnderway ? rights['pack underway'] : rights[kind.kind];
}
