import { balanceOf } from '#libs/records/balance.js';
import type { DispatchBody, DispatchKind } from '#libs/records/bodies.js';
import { heldByHand } from '#libs/records/deeds.js';
import { findJar, findLot, type Lot } from '#libs/records/lots.js';
import { movementsOf, movementsOfJar } from '#libs/records/trace.js';
import { utcOf } from '#libs/records/instants.js';
import { touches } from '#libs/syrup/held-jars.js';
import { printedJarCode, readJarCode } from '#libs/syrup/jar-codes.js';
import type { Parsed } from '#libs/syrup/quantities.js';
import {
  choice,
  signature,
  moment,
  needed,
  orElse,
  ownId,
  maybe,
  parts,
  shapeOf,
  text,
  words,
  type BodyOf,
} from './fields.js';
import { kind, type Settling } from './kind.js';
import { type Fault, invalid, refused, type Refusal } from './problem.js';
import { lookUpLot } from './references.js';

interface AskedJars {
  readonly jars: number;
  readonly codes: readonly string[];
}

/** A count, or the jars by their codes: `12`, or `K7QM-3XWT;…`. */
const jarsOrCodes = (typed: string): Parsed<AskedJars> => {
  if (/^\d{1,7}$/.test(typed) && Number(typed) <= 1_000_000) return { value: { jars: Number(typed), codes: [] } };
  const read = parts(typed).map((part) => ({ part, code: readJarCode(part) }));
  const wrong = read.find((each) => each.code === undefined);
  if (wrong || read.length === 0)
    return {
      mismatch: {
        expected: 'a whole number of jars, or jar codes like K7QM-3XWT parted by ;',
        got: `"${wrong?.part ?? typed}"`,
      },
    };
  const codes = [...new Set(read.map((each) => each.code ?? ''))];
  return { value: { jars: codes.length, codes } };
};

export const dispatchKinds = ['sale', 'gift', 'sample', 'kept', 'retained', 'broken', 'destroyed', 'returned'] as const;

/** Jars that leave the shelf or come home again: sold, given, kept back, broken, destroyed. */
export const dispatchFields = {
  id: maybe(ownId, { label: 'Id', example: 'S104', hint: 'Left blank, the book gives the next one' }),
  lot: needed(text, { label: 'Lot', example: '26077A-1' }),
  jars: needed(jarsOrCodes, { label: 'Jars', example: '12', list: true, hint: 'How many, or the codes of the jars' }),
  sentAt: needed(moment, { label: 'When', example: '2026-05-02T09:00', hint: 'A time to come makes it a plan' }),
  to: needed(text, { label: 'To whom or where', example: 'Millrace Green market' }),
  kind: orElse(choice(...dispatchKinds), 'sale' as DispatchKind, {
    label: 'How',
    example: 'sale',
    choices: dispatchKinds,
  }),
  contact: words({ label: 'How to reach them', example: 'stall 4' }),
  by: orElse(signature, '', { label: 'By', example: 'JP' }),
};
export const dispatchShape = shapeOf(dispatchFields, 'Dispatch');
export type NewDispatch = BodyOf<typeof dispatchFields>;

/** Ways of leaving that put a jar into somebody's hands. */
const goesOut = (how: DispatchKind): boolean => ['sale', 'gift', 'sample'].includes(how);

export const dispatches = kind({
  kind: 'dispatch',
  plural: 'dispatches',
  noun: 'dispatch',
  fields: dispatchFields,
  named: ['id'],
  settle: async (at, { body }, before) => {
    const { sql, desk, first } = at;
    const lot = await lookUpLot(sql, desk.sugarhouse, body.lot);
    if (lot?.kind !== 'pack') return invalid('lot', 'a pack of this book', `"${body.lot}"`);
    if (body.jars.jars === 0 && !before) return invalid('jars', 'at least one jar', '"0"');
    const faults = await codeFaults(at, lot.code, body.jars.codes);
    if (faults.length > 0) return { problem: { kind: 'invalid', faults } };
    const plan = Date.parse(body.sentAt) > desk.now.getTime();
    const refusal = plan ? await refusePlan(at, lot.code, body, before?.id) : undefined;
    if (refusal) return refusal;
    const settled: DispatchBody = {
      lot: lot.code,
      jars: body.jars.jars,
      codes: body.jars.codes,
      sentAt: body.sentAt,
      to: body.to,
      kind: body.kind,
      contact: body.contact,
      by: body.by || first.by,
    };
    return {
      id: body.id ?? before?.id ?? '',
      lot: lot.code,
      happenedAt: body.sentAt,
      body: settled,
      about: [lot.code],
      judge: [lot.code],
      notes: await alreadyOut(at, body.jars.codes, body.kind, before?.id),
    };
  },
});

async function codeFaults({ sql, desk }: Settling, lot: string, codes: readonly string[]): Promise<Fault[]> {
  const faults: Fault[] = [];
  for (const code of codes) {
    const jar = await findJar(sql, code);
    if (jar?.sugarhouse === desk.sugarhouse && jar.pack === lot) continue;
    const got = `${printedJarCode(code)}, which is ${jar?.sugarhouse === desk.sugarhouse ? `of ${jar.pack}` : 'not in this book'}`;
    faults.push({ field: 'jars', expected: `jars of ${lot}`, got });
  }
  return faults;
}

/** What is only planned can still be stopped: nothing held or recalled, and no more than there is, may be promised. */
async function refusePlan(at: Settling, lot: string, body: NewDispatch, id?: string): Promise<Refusal | undefined> {
  const { sql, desk } = at;
  const kept = await findLot(sql, desk.sugarhouse, lot);
  const state = kept?.state;
  if (
    goesOut(body.kind) &&
    (state === 'recalled' || (state === 'held' && !(await outsideTheHold(at, kept, body.jars.codes))))
  )
    return refused(
      state,
      `${lot} is ${state}: no jar of it may be planned to go out. See why on its page, or with: book trace ${lot}`,
    );
  if (body.kind === 'returned') return undefined;
  const now = utcOf(desk.now);
  const balance = await balanceOf(sql, desk.sugarhouse, lot, now);
  const planned = (await movementsOf(sql, desk.sugarhouse, [lot]))
    .filter((each) => each.sentUtc > now && each.id !== id)
    .reduce((sum, each) => sum + (each.kind === 'returned' ? -each.jars : each.jars), 0);
  const left = balance.onHand - planned;
  if (body.jars.jars <= left) return undefined;
  const promised = planned > 0 ? `, with ${planned} already planned` : '';
  return refused(
    'not-that-many',
    `${lot} has ${balance.onHand} ${balance.onHand === 1 ? 'jar' : 'jars'} on hand${promised}: ${body.jars.jars} is ${body.jars.jars - left} too many.`,
  );
}

/** Where a low fill holds only some jars of a pack, others that are named by their codes may still be promised. */
async function outsideTheHold(
  { sql, desk }: Settling,
  lot: Lot | undefined,
  codes: readonly string[],
): Promise<boolean> {
  const held = lot?.verdict?.heldJars;
  if (!held || codes.length === 0 || (await heldByHand(sql, desk.sugarhouse, lot.code))) return false;
  const jars = await Promise.all(codes.map((code) => findJar(sql, code)));
  return jars.every((jar) => jar !== undefined && !touches(held, { from: jar.n, to: jar.n }));
}

/** A jar that the book has gone already: what was typed stays, and this is said. */
async function alreadyOut(
  { sql, desk }: Settling,
  codes: readonly string[],
  how: DispatchKind,
  id?: string,
): Promise<string[]> {
  const notes: string[] = [];
  for (const code of codes) {
    const last = (await movementsOfJar(sql, desk.sugarhouse, code)).filter((each) => each.id !== id).at(-1);
    if (last && last.kind !== 'returned' && how !== 'returned')
      notes.push(`Jar ${printedJarCode(code)} already went to ${last.to} on ${last.sentAt.slice(0, 10)} (${last.id}).`);
  }
  return notes;
}
