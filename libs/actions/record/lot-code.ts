import { findLot } from '#libs/store/queries/lots.js';
import { voidedBy } from '#libs/store/queries/voided.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { blendCode, boilCode, packCode, parseLotCode } from '#libs/syrup/codes/lot-codes.js';
import type { WriteContext } from './write-context.js';
import type { Fault } from './problem.js';
import { yearAndDayOf } from './times.js';

type CodeContext = Pick<WriteContext, 'sugarhouse' | 'reservedCodes'>;

/** The next free code for the day a boil began. */
export async function nextBoilCode(sql: Sql, context: CodeContext, beganAt: string): Promise<string> {
  const { year, dayOfYear } = yearAndDayOf(beganAt);
  return firstFreeCode(sql, context, 'boil', (n) => boilCode(year, dayOfYear, n));
}

/**
 * The next free pack code: of the one boil, or of the day's blends where it came from several boils or bought syrup.
 */
export async function nextPackCode(
  sql: Sql,
  context: CodeContext,
  boils: readonly string[],
  packedAt: string,
): Promise<string> {
  const [boil] = boils;
  if (boil !== undefined && boils.length === 1)
    return firstFreeCode(sql, context, 'pack', (n) => packCode(boil, n + 1));
  const { year, dayOfYear } = yearAndDayOf(packedAt);
  return firstFreeCode(sql, context, 'pack', (n) => blendCode(year, dayOfYear, n + 1));
}

/** A code that the maker chose, parsed; a refusal where it can't be used. */
export function parseOwnCode(
  typed: string,
  kind: 'boil' | 'pack',
  happenedAt: string,
): { code: string; notes: string[] } | Fault {
  const parsed = parseLotCode(typed);
  const example = kind === 'boil' ? '26077A' : '26077A-1 or 26081X-1';
  if (!parsed || (parsed.kind === 'boil') !== (kind === 'boil'))
    return { field: 'lot', expected: `the code of a ${kind} like ${example}`, got: `"${typed}"` };
  const { year, dayOfYear } = yearAndDayOf(happenedAt);
  const sameDay = parsed.year === year && parsed.dayOfYear === dayOfYear;
  const dated = parsed.kind === 'blend' ? 'was packed' : 'began';
  const notes =
    sameDay || parsed.kind === 'pack'
      ? []
      : [
          `${parsed.code} says day ${parsed.dayOfYear} of ${parsed.year}, but it ${dated} on ${happenedAt.slice(0, 10)}. The code stays as it was given.`,
        ];
  return { code: parsed.code, notes };
}

async function firstFreeCode(
  sql: Sql,
  { sugarhouse, reservedCodes }: CodeContext,
  kind: 'boil' | 'pack',
  codeAt: (n: number) => string,
): Promise<string> {
  for (let n = 0; ; n++) {
    const code = codeAt(n);
    if (reservedCodes?.has(code) || (await findLot({ sql, sugarhouse }, code))) continue;
    // A voided lot keeps its code: a jar or vessel may still carry it.
    if ((await voidedBy({ sql, sugarhouse }, kind, code)) === undefined) return code;
  }
}

/** How many codes of one boil or day are looked up ahead: most have fewer packs or boils. */
const codesLookedAhead = 8;

/** Codes that a boil or pack without one will probably get, from the day as typed and the lots it came from. */
export function likelyCodes(kind: string, typedAt: string | undefined, sources: readonly string[]): string[] {
  const codes = (codeAt: (n: number) => string): string[] =>
    Array.from({ length: codesLookedAhead }, (_, n) => codeAt(n));
  const day = /^\d{4}-\d{2}-\d{2}/.test(typedAt ?? '') ? yearAndDayOf(typedAt ?? '') : undefined;
  if (kind === 'boil') return day ? codes((n) => boilCode(day.year, day.dayOfYear, n)) : [];
  if (kind !== 'pack') return [];
  return [
    ...sources.flatMap((source) => codes((n) => packCode(source, n + 1))),
    ...(day ? codes((n) => blendCode(day.year, day.dayOfYear, n + 1)) : []),
  ];
}
