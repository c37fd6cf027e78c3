import type { Book } from '#libs/store/book.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { findJar } from '#libs/store/queries/lots.js';
import { readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { dispatches } from '../kinds/dispatch.js';
import { splitList } from '../record/fields.js';
import { readPhoto } from '../photos/add-photo.js';
import { recordWithPhotoInTransaction, type TakenPhoto } from '../photos/record-with-photo.js';
import { isParsedField, parsedField, type RecordInput } from '../record/parsed-field.js';
import { type JarSelection, jarsByCodes } from '../jars/jar-selection.js';
import type { Refusal } from '../record/problem.js';
import type { Recorded } from '../record/record.js';
import type { WriteContext } from '../record/write-context.js';

type TrayInput = RecordInput;

/**
 * Records a tray of jars named by their codes alone: each code identifies its pack, and each pack gets its own
 * dispatch, with the photo of the tray if there is one. All are written, or none where one is refused. A count, or a
 * named lot, is a single dispatch.
 */
export async function recordTray(
  book: Book,
  context: WriteContext,
  input: TrayInput,
  taken?: TakenPhoto,
): Promise<{ saved: Recorded[] } | Refusal> {
  const photo = taken && (await readPhoto(taken.bytes, taken.caption));
  if (photo && 'problem' in photo) return photo;
  return book.write(async (tx) => {
    const byPack = await jarsByPack(tx.sql, context.sugarhouse, input);
    const saved: Recorded[] = [];
    for (const [pack, jars] of byPack) {
      const key = byPack.size > 1 && context.key !== undefined ? { key: `${context.key}:${pack}` } : {};
      const ofPack = { kind: dispatches, sent: packInput(input, pack, jars, byPack.size) };
      const done = await recordWithPhotoInTransaction(tx, { ...context, ...key }, ofPack, photo);
      if ('problem' in done) return done;
      saved.push(done);
    }
    return { saved };
  });
}

/** The codes as typed, by pack; one group without a pack where the lot is named or jars are counted. */
async function jarsByPack(sql: Sql, sugarhouse: string, input: TrayInput): Promise<Map<string, readonly string[]>> {
  const typed = typedCodes(input);
  if (input['lot'] || typed.length === 0) return new Map([['', typed]]);
  const byPack = new Map<string, readonly string[]>();
  let notFound: readonly string[] = [];
  for (const jar of typed) {
    const code = readJarCode(jar);
    const found = code === undefined ? undefined : await findJar(sql, code);
    if (found?.sugarhouse === sugarhouse) byPack.set(found.pack, [...(byPack.get(found.pack) ?? []), jar]);
    else notFound = [...notFound, jar];
  }
  // Codes that are no jar of this book are added to the first pack, whose dispatch then reports them.
  const [first = ''] = byPack.keys();
  if (notFound.length > 0) byPack.set(first, [...(byPack.get(first) ?? []), ...notFound]);
  return byPack;
}

/** A `sealed` count equal to the whole tray becomes all jars of each pack; any other number is left for the dispatch to refuse. */
function packInput(input: TrayInput, pack: string, jars: readonly string[], packs: number): TrayInput {
  if (pack === '') return input;
  const inTray = new Set(typedCodes(input).map((jar) => readJarCode(jar))).size;
  const inPack = new Set(jars.map((jar) => readJarCode(jar))).size;
  const sealed = packs > 1 && input['sealed'] === String(inTray) ? { sealed: String(inPack) } : {};
  // A typed id can belong to one record only, so each pack appends its own code.
  const id = packs > 1 && typeof input['id'] === 'string' && input['id'] ? { id: `${input['id']}-${pack}` } : {};
  return { ...input, lot: pack, jars: packs > 1 ? jarsField(jars) : input['jars'], ...sealed, ...id };
}

/** The codes that were sent, each as typed; a count is one text, and no code. */
function typedCodes({ jars }: TrayInput): readonly string[] {
  if (!isParsedField(jars)) return splitList(typeof jars === 'string' ? jars : '');
  return jars.result.faults || (jars.result.value as JarSelection).codes.length === 0 ? [] : splitList(jars.typed);
}

/** The jars of one pack of a tray; as text where one of them is no code, so that the dispatch reports it. */
function jarsField(jars: readonly string[]): unknown {
  const typed = jars.join(';');
  const { value } = jarsByCodes(jars);
  return value ? parsedField(typed, value) : typed;
}
