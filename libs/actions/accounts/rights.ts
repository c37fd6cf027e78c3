import type { RecordKind, SupportingName } from '#libs/records/record-types.js';
import { supportingRecordKinds } from '../kinds/supporting-records.js';
import type { Kind, Writer } from '../record/kind.js';
import { packsUnderway } from '../kinds/pack.js';
import { boilsUnderway } from '../kinds/boil.js';

/**
 * Who may write what, for page and API alike; a supporting record declares its own. Helpers record what they did and
 * read while working: readings, steps, counts. Purchases, dispatches, a lot's status and the sugarhouse's own details
 * are for makers.
 */
export const rights: Readonly<Record<RecordKind | ExtraRight, Writer>> = {
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
  'already left': 'helper', // jars that left although they were not allowed to: a fact, which a maker then signs
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

type ExtraRight =
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
 * The role required to write a record of this kind, or with `adds` to add to one. A boil or pack in progress needs a
 * different right from a finished one, and recording jars that have already left a different one from sending them.
 *
 * @param input the record's fields as they were sent, by name
 */
export function requiredRole(kind: Kind, input: Readonly<Record<string, unknown>>, adds = false): Writer {
  if (kind === boilsUnderway) return rights['boil underway'];
  if (kind === packsUnderway) return rights['pack underway'];
  if (kind.kind === 'dispatch' && !adds && reportsAlreadyLeft(input)) return rights['already left'];
  if (kind.kind === 'dispatch' && fillsInCondition(input)) return rights['look at a return'];
  return rights[kind.kind];
}

/**
 * Whether the request reports that somebody has jars that were not allowed to leave. Jars destroyed, broken, kept,
 * retained or returned haven't left to anybody: such a record would take held jars off the shelf, and their evidence.
 */
const reportsAlreadyLeft = (input: Readonly<Record<string, unknown>>): boolean =>
  input['alreadyLeft'] === 'yes' && ['', 'sale', 'gift', 'sample'].includes(sentText(input['kind']).toLowerCase());

/** A field's text, which a script may also send as a list. */
export const sentText = (value: unknown): string => [value ?? ''].flat().map(String).join(';').trim();

/** Whether the request only fills in the condition of returned jars that the return left blank. */
const fillsInCondition = (input: Readonly<Record<string, unknown>>): boolean => {
  const filled = Object.keys(input).filter((name) => input[name] !== '' && !name.endsWith('~unit'));
  return filled.length > 0 && filled.every((name) => ['sealed', 'keptHow'].includes(name));
};

/** The lowest role that any request for a kind may need; the request itself is checked afterwards. */
export const lowestRequiredRole = (kind: Kind): Writer => requiredRole(kind, { alreadyLeft: 'yes' });
