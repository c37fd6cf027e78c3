import { findJar, jarsOfPack, type Lot } from '#libs/store/queries/lots.js';
import { printedJarCode, readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { jarsInSpans, type NamedJars, parseJarSpans } from '#libs/syrup/jars/jar-spans.js';
import type { Parsed } from '#libs/syrup/quantities/quantities.js';
import { splitList } from '../record/fields.js';
import type { PrepareContext } from '../record/kind.js';
import { type Fault, invalid, type Refusal } from '../record/problem.js';

/** The jars that somebody sends out, as typed. */
export interface JarSelection {
  readonly jars: number;
  readonly codes: readonly string[];
  /** The jars by their fill numbers, before their codes were looked up. */
  readonly numbers?: NamedJars;
}

/** Parses a count, or jars by code or number: `12`, `K7QM-3XWT;…`, or `jars 13-24`. */
export const jarsOrCodes = (typed: string): Parsed<JarSelection> => {
  if (/^\d{1,7}$/.test(typed) && Number(typed) <= 1_000_000) return { value: { jars: Number(typed), codes: [] } };
  const numbers = /^(?:jars?|pots?)\s|^\d{1,6}\s*[-–—]\s*\d{1,6}$/iu.test(typed)
    ? parseJarSpans(typed).value
    : undefined;
  if (numbers) return { value: jarsByNumbers(numbers) };
  const read = jarsByCodes(splitList(typed));
  if (read.value && read.value.jars > 0) return read;
  return {
    mismatch: {
      expected: 'a whole number of jars, jar codes like K7QM-3XWT separated by ;, or jars by number like jars 13-24',
      got: read.mismatch?.got ?? `"${typed}"`,
    },
  };
};

/** Jars by their codes, one text each; a repeated code is one jar. */
export function jarsByCodes(texts: readonly string[]): Parsed<JarSelection> {
  const read = texts.map((typed) => ({ typed, code: readJarCode(typed) }));
  const wrong = read.find(({ code }) => code === undefined);
  if (wrong) return { mismatch: { expected: 'jar codes like K7QM-3XWT, one a line', got: `"${wrong.typed}"` } };
  const codes = [...new Set(read.flatMap(({ code }) => code ?? []))];
  return { value: { jars: codes.length, codes } };
}

/** Jars by their numbers in the pack. */
export const jarsByNumbers = (numbers: NamedJars): JarSelection => ({
  jars: jarsInSpans(numbers.spans),
  codes: [],
  numbers,
});

/** Replaces jars named by number with their codes, so that later entries know exactly which ones. */
export async function codesByNumber(
  { reader }: PrepareContext,
  lot: Lot,
  selection: JarSelection,
): Promise<JarSelection | Refusal> {
  const { numbers } = selection;
  if (!numbers) return selection;
  const beyond = numbers.spans.some(({ to }) => to > (lot.jars ?? 0));
  if (beyond)
    return invalid('jars', `jar numbers from 1 to ${lot.jars ?? 0}, the jars of ${lot.code}`, `"${numbers.typed}"`);
  const codes: string[] = [];
  for (const { from, to } of numbers.spans)
    for await (const jar of jarsOfPack(reader, lot.code, from, to)) codes.push(jar.code);
  return { jars: codes.length, codes };
}

/** Faults for codes that are no jars of this pack. */
export async function codeFaults(
  { reader, writeContext: context }: PrepareContext,
  lot: string,
  codes: readonly string[],
): Promise<Fault[]> {
  const faults: Fault[] = [];
  for (const code of codes) {
    const jar = await findJar(reader.sql, code);
    if (jar?.sugarhouse === context.sugarhouse && jar.pack === lot) continue;
    const got = `${printedJarCode(code)}, which is ${jar?.sugarhouse === context.sugarhouse ? `of ${jar.pack}` : notHere}`;
    faults.push({ field: 'jars', expected: `jars of ${lot}`, got });
  }
  return faults;
}

/** A pack that is imported again has jars with codes of their own. */
export const notHere =
  'not in this book: a code is known to the book that printed it, and where that book was restored or moved to; elsewhere give the number of jars';
