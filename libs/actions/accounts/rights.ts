import type { RecordKind, SupportingName } from '#libs/records/record-types.js';
import { supportingRecordKinds } from '../kinds/supporting-records.js';
import type { Kind, Writer } from '../record/kind.js';
import { packsUnderway } from '../kinds/pack.js';
import { boilsUnderway } from '../kinds/boil.js';

/**
 * Who may write what, for page and API alike; a supporting record says it in its declaration. Helpers write what they
 * did and read at the bench: readings, steps, counts. What comes in or goes out, the state of a lot and what the house
 * answers for is for makers.
 */
export const rights: Readonly<Record<RecordKind | Beside, Writer>> = {
  ...(Object.fromEntries(supportingRecordKinds.map(({ kind, writer }) => [kind, writer])) as Record<
    SupportingName,
    Writer
  >),
  gathering: 'helper',
  line: 'helper',
  draw: 'helper',
  count: 'helper',
  spent: 'helper',
  verification: 'helper',
  'look at a return': 'helper',
  'recall-call': 'helper',
  'already left': 'helper', // jars that went out though they might not: a fact, which then waits for a maker
  photo: 'helper', // of any record: whoever does the work sees the label, the seal, the gauge
  'boil underway': 'helper',
  'pack underway': 'helper',
  boil: 'maker',
  pack: 'maker',
  receipt: 'maker',
  dispatch: 'maker',
  action: 'maker',
  acknowledgement: 'maker',
  answer: 'maker',
  stock: 'maker',
  mark: 'maker', // hold, release, recall
  correction: 'maker',
  import: 'maker',
  'for another': 'maker', // sign with another person's initials
  house: 'owner',
};

type Beside =
  | 'boil underway'
  | 'pack underway'
  | 'already left'
  | 'photo'
  | 'look at a return'
  | 'mark'
  | 'correction'
  | 'import'
  | 'for another';

/**
 * Who may write a record of this kind. A boil or a pack as it goes is another right than a whole one, and that jars
 * have already left another than sending them.
 */
export function rightTo(kind: Kind, sent: Readonly<Record<string, unknown>>): Writer {
  if (kind === boilsUnderway) return rights['boil underway'];
  if (kind === packsUnderway) return rights['pack underway'];
  if (kind.kind === 'dispatch' && sent['alreadyLeft'] === 'yes') return rights['already left'];
  if (kind.kind === 'dispatch' && saysHowTheyCame(sent)) return rights['look at a return'];
  return rights[kind.kind];
}

/** Nothing but how returned jars are, filled in where the return left it blank. */
const saysHowTheyCame = (sent: Readonly<Record<string, unknown>>): boolean => {
  const formatted = Object.keys(sent).filter((name) => sent[name] !== '' && !name.endsWith('~unit'));
  return formatted.length > 0 && formatted.every((name) => ['sealed', 'keptHow'].includes(name));
};

/** The lowest of all that may come in by a kind's address; what they send is looked at then. */
export const lowestRight = (kind: Kind): Writer => rightTo(kind, { alreadyLeft: 'yes' });
