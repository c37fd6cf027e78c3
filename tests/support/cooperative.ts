import { addHouse } from '#libs/actions/accounts/add-house.js';
import { addKey, addPerson } from '#libs/actions/accounts/accounts.js';
import { supportingRecordKinds } from '#libs/actions/kinds/supporting-records.js';
import { record } from '#libs/actions/record/record.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { findJar, jarsOfPack } from '#libs/store/queries/lots.js';
import { printedJarCode, readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { writeContext, done, recordOrThrow } from './sugarhouse.js';
import type { TestServer } from './server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * Tamarack Hollow packs for two members: Bracken Lane, whose record is full, and Harrow Notch, which tries to read it.
 */
export const [member, asker] = ['bracken-lane', 'harrow-notch'];
export const password = 'a wet wool filter drips';

/** Something in the member's record by its name, and a name of the same shape that is in no record. */
export interface Named {
  readonly there: string;
  readonly nowhere: string;
}

export async function makeCooperative(at: TestServer) {
  const { book } = at;
  await recordOrThrow(book, 'house', { prefix: 'TH' });
  const result = {
    town: 'Harrow Notch, Vermont',
    place: 'Vermont',
    hydrometerMadeFor: '60-F',
    zone: 'America/New_York',
  };
  done(
    await addHouse(book, writeContext(), member, {
      name: 'Bracken Lane Sugarbush',
      prefix: 'BL',
      phone: '802 555 0177',
      ...result,
    }),
  );
  done(await addHouse(book, writeContext(), asker, { name: 'Harrow Notch Sugarhouse', prefix: 'HN', ...result }));
  const names = await writeMember(at);
  await writeAsker(at);
  const keyOf = async (house: string, name: string, role: string): Promise<string> =>
    done(await addKey(book, house, { name, role }, at.clock.now)).key;
  for (const [house, initials, role] of [
    [member, 'QQ', 'owner'],
    [asker, 'ZZ', 'owner'],
    ['home', 'JP', 'packer'],
    ['home', 'WE', 'owner'],
    ['home', 'OE', 'maker'],
  ] as const)
    done(await addPerson(book, house, { initials, role, password }));
  return {
    names,
    keys: {
      member: await keyOf(member, 'bush-sheet', 'owner'),
      asker: await keyOf(asker, 'notch-sheet', 'owner'),
      packer: await keyOf('home', 'packing-line', 'packer'),
      maker: await keyOf('home', 'stall-sheet', 'maker'),
    },
    /** Texts that are in the member's record and nowhere else. */
    secrets: [
      '802 555 0177',
      'far bush',
      'Zephyr',
      'QB-',
      'QQ',
      'bush-sheet',
      '26050A',
      ...names.jars.slice(0, 3),
    ].flatMap((word) => (readJarCode(word) === word ? [word, printedJarCode(word)] : [word])),
  };
}

const theirs = { sugarhouse: 'bracken-lane', by: 'QQ', author: 'QQ' };

/** One record of every kind, with ids and texts that nobody else has. */
async function writeMember({ book }: TestServer) {
  await recordOrThrow(
    book,
    'gathering',
    { id: 'QB-G7', source: 'far bush', gatheredAt: '2026-02-18T16:00', by: 'QQ' },
    theirs,
  );
  await recordOrThrow(
    book,
    'receipt',
    { id: 'QB-R7', supplier: 'Zephyr orchard', receivedAt: '2026-02-18T09:00', by: 'QQ' },
    theirs,
  );
  const cooked = { beganAt: '2026-02-19T07:30', finishedAt: '2026-02-19T19:00', gatherings: 'QB-G7:120 gal', by: 'QQ' };
  await recordOrThrow(book, 'boil', cooked, theirs);
  await recordOrThrow(book, 'draw', { id: 'QB-D7', boil: '26050A', drawnAt: '2026-02-19T14:05', by: 'QQ' }, theirs);
  await recordOrThrow(book, 'pack', { fromLots: '26050A:3 gal', packedAt: '2026-02-20T10:00', by: 'QQ' }, theirs);
  await recordOrThrow(book, 'dispatch', { id: 'QB-S7', lot: '26050A-1', to: 'Zephyr stall', by: 'QQ' }, theirs);
  await recordOrThrow(book, 'count', { id: 'QB-C7', lot: '26050A-1', by: 'QQ' }, theirs);
  const acted = await recordOrThrow(book, 'action', { lot: '26050A-1', found: 'far bush', by: 'QQ' }, theirs);
  await beside(book, 'instrument', { id: 'QB-T7', what: 'thermometer' });
  await beside(book, 'check', { id: 'QB-K7', instrument: 'QB-T7', how: 'ice', should: '32 F', reads: '32 F' });
  const jars: string[] = [];
  for await (const jar of jarsOfPack(sugarhouseReader(book.read, 'bracken-lane'), '26050A-1')) jars.push(jar.code);
  const ids = ['G7', 'R7', 'D7', 'S7', 'C7', 'T7', 'K7'].map((id) => ({ there: `QB-${id}`, nowhere: `QX-${id}` }));
  const entry = { there: String(acted.entry), nowhere: '987654' };
  const jar = { there: jars[0] ?? '', nowhere: await jarOfNobody(book, jars[0] ?? '') };
  const lots = ['A', 'A-1'].map((end) => ({ there: `26050${end}`, nowhere: `26052${end}` }));
  return { jars, entry, all: [...lots, ...ids, { there: acted.id, nowhere: 'A0999' }, jar] satisfies Named[] };
}

async function beside(book: TestServer['book'], name: RecordKind, sent: Record<string, string>): Promise<void> {
  const kind = supportingRecordKinds.find((each) => each.kind === name);
  if (!kind) throw new Error(`no kind ${name}`);
  done(await record(book, writeContext(theirs), kind, sent));
}

/** A valid jar code that no jar has. */
async function jarOfNobody(book: TestServer['book'], like: string): Promise<string> {
  const letters = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
  for (const last of letters)
    for (const check of letters) {
      const code = `${like.slice(0, 6)}${last}${check}`;
      if (readJarCode(code) === code && !(await findJar(book.read, code))) return code;
    }
  throw new Error('every code is a jar');
}

/** A boil and a pack of the asker's own, on other days. */
async function writeAsker({ book }: TestServer): Promise<void> {
  const own = { sugarhouse: 'harrow-notch', by: 'ZZ', author: 'ZZ' };
  for (const kind of ['gathering', 'boil', 'pack'] as const) await recordOrThrow(book, kind, { by: 'ZZ' }, own);
}

/** The addresses of a route with a name for its parameters, for several kinds where it takes one. */
export function urlsOf(path: string, name: string): string[] {
  const kinds = /:(kind|plural)/.test(path) ? ['gathering', 'pack', 'dispatch', 'check', 'checks', 'packs'] : [''];
  return kinds.map((kind) =>
    path
      .replace(/:(kind|plural)/g, kind)
      .replace(':year', '2026')
      .replace(':token', 'none')
      .replace(/:\w+/g, encodeURIComponent(name)),
  );
}
