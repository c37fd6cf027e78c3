import { isDeepStrictEqual } from 'node:util';
import type { Sql } from '#libs/store/connection/sql.js';
import { judgePack, type PackFacts } from '#libs/syrup/rules/judge-pack.js';
import type { Verdict } from '#libs/syrup/rules/verdict.js';

/**
 * The verdict on a pack by its facts. A write keeps it for as long as the facts of the pack are equal: most dispatches
 * of a file change nothing that a pack is judged by. Outside a write each pack is judged anew.
 */
export function judgePackOfFacts({ sql }: { readonly sql: Sql }, code: string, facts: PackFacts): Verdict {
  if (!sql.grouped) return judgePack(facts);
  const known = verdictsKnown.get(sql.grouped) ?? new Map<string, KnownVerdict>();
  verdictsKnown.set(sql.grouped, known);
  const before = known.get(code);
  if (before && isDeepStrictEqual(before.facts, facts)) return before.verdict;
  const verdict = judgePack(facts);
  if (known.size >= mostKnown) known.clear();
  known.set(code, { facts, verdict });
  return verdict;
}

interface KnownVerdict {
  readonly facts: PackFacts;
  readonly verdict: Verdict;
}
const verdictsKnown = new WeakMap<NonNullable<Sql['grouped']>, Map<string, KnownVerdict>>();
/** A long file must not hold the verdicts of the whole book; each with its facts takes some kilobytes. */
const mostKnown = 1000;
