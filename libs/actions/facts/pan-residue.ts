import type { BoilBody } from '#libs/records/kinds/boil.js';
import { textIn } from '#libs/records/kinds/supporting-record.js';
import { boilsWithDefoamer, linesOfBoils } from '#libs/store/queries/defoamers.js';
import { type Lot, recordsOf, type StoredRecord } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { cleansAllPans } from '#libs/syrup/free-text/cleaning-text.js';
import { allergensCarried, type DefoamerFacts, judgeDefoamer } from '#libs/syrup/contents/judge-defoamer.js';
import { defoamersInLog } from './defoamer-lines.js';

interface Where {
  readonly sql: Sql;
  readonly sugarhouse: string;
}

/** What earlier boils left in the pans of a boil. */
export interface PanResidue {
  readonly allergensInPans: readonly string[];
  /** Defoamers without an answer, whose names don't tell their allergens either. */
  readonly unansweredInPans: readonly DefoamerFacts[];
}
const noResidue: PanResidue = { allergensInPans: [], unansweredInPans: [] };

/** The allergens of a boil's defoamer, as answered and by its name; or that there is no answer. */
export function panResidue(code: string, body: BoilBody, inLog: readonly string[]): PanResidue {
  const cached = residueByBody.get(body);
  if (cached?.code === code && cached.inLog === inLog.join('\n')) return cached.left;
  const left = computePanResidue(code, body, inLog);
  residueByBody.set(body, { code, inLog: inLog.join('\n'), left });
  return left;
}

/** Cached by record: it is read once in a write and needed by every pack of a file. */
const residueByBody = new WeakMap<
  BoilBody,
  { readonly code: string; readonly inLog: string; readonly left: PanResidue }
>();

function computePanResidue(
  code: string,
  { defoamer, defoamerAllergens }: BoilBody,
  inLog: readonly string[],
): PanResidue {
  const facts: DefoamerFacts = {
    of: `boil ${code}, in pans that were not washed since`,
    about: `boil/${code}`,
    names: [defoamer, ...inLog],
    answers: [defoamerAllergens],
  };
  const allergens = allergensCarried([facts]);
  const isUnanswered = allergens.length === 0 && judgeDefoamer(facts).some(({ stop }) => stop);
  return { allergensInPans: allergens, unansweredInPans: isUnanswered ? [facts] : [] };
}

/**
 * For each of these boils, what earlier boils left since the pans were last washed. The search goes back far enough to
 * span a new year; that pans are washed within a year is common practice, no source.
 */
export async function loadPanResidueLookup(where: Where, boils: readonly Lot[]): Promise<(boil: Lot) => PanResidue> {
  if (boils.length === 0) return () => noResidue;
  const washings = await loadPanWashings(where);
  const since = (utc: string): string =>
    [washings.findLast((each) => each <= utc) ?? '', aYearBefore(utc)].sort().at(-1) ?? '';
  const times = boils.map(({ atUtc }) => atUtc).sort();
  const [first, last] = [since(times[0] ?? ''), times.at(-1) ?? ''];
  // Queried by whole months, so that rows of one file share the query.
  const months = [monthOf(first), `${monthOf(last)}-99`] as const;
  const residues = residuesOf(await boilsWithDefoamer(where, ...months), await linesOfBoils(where, ...months));
  const earlier = residues.filter(({ atUtc }) => atUtc > first && atUtc < last);
  if (earlier.length === 0) return () => noResidue;
  return ({ atUtc }) => {
    const from = since(atUtc);
    const left = earlier.filter((each) => each.atUtc < atUtc && each.atUtc > from).map((each) => each.left);
    return {
      allergensInPans: [...new Set(left.flatMap(({ allergensInPans }) => allergensInPans))],
      unansweredInPans: left.flatMap(({ unansweredInPans }) => unansweredInPans),
    };
  };
}

interface BoilResidue {
  readonly atUtc: string;
  readonly left: PanResidue;
}

/** What each of these boils left, where it left anything. `lines` are the log lines of all of them. */
function residuesOf(
  boils: readonly StoredRecord<'boil'>[],
  lines: readonly StoredRecord<'line'>[],
): readonly BoilResidue[] {
  const [first] = boils;
  if (!first) return [];
  const known = residuesKnown.get(first);
  if (known && areSame(known.boils, boils) && areSame(known.lines, lines)) return known.residues;
  const linesOf = new Map<string | undefined, StoredRecord<'line'>[]>();
  for (const line of lines) linesOf.set(line.lot, [...(linesOf.get(line.lot) ?? []), line]);
  const residues = boils.flatMap(({ id, atUtc, body }): BoilResidue[] => {
    const left = panResidue(id, body, defoamersInLog(body.defoamer, linesOf.get(id) ?? []));
    return left.allergensInPans.length + left.unansweredInPans.length > 0 ? [{ atUtc, left }] : [];
  });
  residuesKnown.set(first, { boils, lines, residues });
  return residues;
}

/** Every pack of a file needs those of the same boils. A write reads each record once, so the same ones are identical. */
const residuesKnown = new WeakMap<
  StoredRecord,
  {
    readonly boils: readonly StoredRecord[];
    readonly lines: readonly StoredRecord[];
    readonly residues: readonly BoilResidue[];
  }
>();

const areSame = (some: readonly unknown[], others: readonly unknown[]): boolean =>
  some.length === others.length && some.every((each, n) => each === others[n]);

/** When the pans were washed, oldest first. */
export async function loadPanWashings({ sql, sugarhouse }: Where): Promise<string[]> {
  const cleanings = await recordsOf({ sql, sugarhouse }, 'cleaning');
  return cleanings.flatMap(({ atUtc, body }) => (cleansAllPans(textIn(body, 'what')) ? [atUtc] : []));
}

const monthOf = (utc: string): string => utc.slice(0, 7);
const aYearBefore = (utc: string): string => `${Number(utc.slice(0, 4)) - 1}${utc.slice(4)}`;
