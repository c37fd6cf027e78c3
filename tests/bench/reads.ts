import { Worker } from 'node:worker_threads';
import { addKey, addPerson } from '#libs/actions/accounts/accounts.js';
import { record } from '#libs/actions/record/record.js';
import { houses } from '#libs/actions/kinds/house.js';
import { startSession } from '#libs/actions/accounts/sign-in.js';
import type { Book } from '#libs/store/book.js';
import { findJar } from '#libs/store/queries/lots.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { writeBigBook } from '../generator/big-book.js';

export interface Ask {
  readonly path: string;
  /** Text in the right response and in no other. */
  readonly word: string;
  /** Header lines: a person's session, a script's key. */
  readonly carries: readonly string[];
}

/** What people and scripts request all day, by kind. */
export type Kinds = ReadonlyMap<string, readonly Ask[]>;

/** Writes a big book with a house, an owner and a key. */
export async function readable(book: Book, boils: number, options: { readonly aSeason?: number } = {}) {
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: new Date('2006-01-01T12:00:00Z'), zone: 'UTC' };
  await record(book, context, houses, {
    name: 'Tamarack Hollow Sugarhouse',
    town: 'Harrow Notch',
    place: 'Vermont',
    hydrometerMadeFor: '60-F',
  });
  const big = await writeBigBook(book, boils, options);
  // A server that has run for a minute would have analysed its tables by itself.
  if (book.read.engine === 'postgres') await book.read.statement('ANALYZE');
  return { book: big, ...(await comeIn(book)) };
}

/** The same, and the requests to send to it. */
export async function writtenToRead(
  book: Book,
  boils: number,
): Promise<{ kinds: Kinds; codes: readonly string[]; session: readonly string[] }> {
  const { book: big, session, key } = await readable(book, boils);
  const codes = Array.from({ length: 2000 }, (_, n) => big.someJars[(n * 11) % big.someJars.length]!);
  const packs: string[] = [];
  for (const code of codes) packs.push((await findJar(book.read, code))?.pack ?? '');
  const kinds = new Map<string, readonly Ask[]>([
    ['scan page', codes.map((code) => ({ path: `/J/${code}`, word: printedJarCode(code), carries: session }))],
    [
      'trace page',
      codes.map((code) => ({ path: `/jars/${code}`, word: `Jar ${printedJarCode(code)}`, carries: session })),
    ],
    ['API trace', codes.map((code) => ({ path: `/api/jars/${code}`, word: `"${code}"`, carries: key }))],
    ['lot page', packs.map((pack) => ({ path: `/lots/${pack}`, word: `<title>${pack} `, carries: session }))],
    ['lot list', codes.map(() => ({ path: '/packs', word: '<title>Packs ', carries: session }))],
  ]);
  // About the same duration for each kind: a list takes some thirty times as long as a scan.
  const ofEach = [2000, 500, 1500, 500, 80];
  for (const [n, [kind, asks]] of [...kinds].entries()) kinds.set(kind, asks.slice(0, ofEach[n]));
  return { kinds, codes, session };
}

/** Each kind by itself, and the mix of them last. */
export const kindsAndMix = (kinds: Kinds): (readonly [string, readonly Ask[]])[] => [
  ...kinds,
  ['the mix', mixOf(kinds, 80)],
];

/** One of each kind in turn. */
export function mixOf(kinds: Kinds, ofEach: number): Ask[] {
  const all = [...kinds.values()];
  return Array.from({ length: ofEach }, (_, n) => all.map((asks) => asks[n % asks.length]!)).flat();
}

async function comeIn(book: Book) {
  const now = new Date();
  const key = await addKey(book, 'home', { name: 'bench', role: 'guest' }, now);
  const person = await addPerson(book, 'home', { initials: 'WE', role: 'owner', password: 'a wet wool filter drips' });
  if ('problem' in key || 'problem' in person) throw new Error('neither key nor person');
  const session = await startSession(book, 'home', { initials: 'WE', device: 'bench' }, now);
  return { session: [`Cookie: boilbook=${session.token}`], key: [`Authorization: Bearer ${key.key}`] };
}

export const readersAtOnce = 32;

export interface Measured {
  readonly milliseconds: number;
  readonly processorMs: number;
}

/** Milliseconds until every request is answered, and the clients' processor time. */
export function measure(ports: readonly number[], asks: readonly Ask[]): Promise<Measured> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./read-client.js', import.meta.url), {
      workerData: { ports, asks, atOnce: readersAtOnce },
    });
    worker.once('message', resolve);
    worker.once('error', reject);
  });
}
