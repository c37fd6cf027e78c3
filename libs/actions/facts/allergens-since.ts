import { historyOfEach } from '#libs/store/connection/batch-queries.js';
import { utcOf } from '#libs/store/connection/instants.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { undeclaredAllergens } from '#libs/syrup/contents/undeclared-allergens.js';
import type { Verdict } from '#libs/syrup/rules/verdict.js';
import type { JudgingContext } from '../judging/judging-context.js';

type Since = NonNullable<Verdict['allergensSince']>;

/**
 * For each allergen that an earlier verdict on the pack lacked, since when it has been recorded, in UTC: from this write
 * on where the last verdict lacked it. One that the pack had from its first verdict is left out.
 */
export async function loadAllergensSince(
  judging: JudgingContext,
  lot: Lot,
  upstream: readonly Lot[],
  allergens: readonly string[],
): Promise<Since> {
  const before = lot.verdict;
  if (allergens.length === 0 || !before) return {};
  const known =
    before.allergensSince ?? (before.allergens.length === 0 ? {} : await sinceByHistory(judging, lot, upstream));
  return following(
    { allergens: before.allergens, since: known },
    allergens,
    utcOf(judging.houseContext.parseOptions.now),
  );
}

/** The moments after one more verdict: an allergen in other words (butter, milk) keeps its own. */
function following(
  before: { readonly allergens: readonly string[]; readonly since: Since },
  allergens: readonly string[],
  nowUtc: string,
): Since {
  return Object.fromEntries(
    allergens.flatMap((allergen) => {
      const same = before.allergens.filter((each) => undeclaredAllergens([allergen], [each]).length === 0);
      if (same.length === 0) return [[allergen, nowUtc]];
      const moments = same.flatMap((each) => before.since[each] ?? []);
      return moments.length < same.length ? [] : [[allergen, moments.sort()[0]!]];
    }),
  );
}

/**
 * The same from the log, for verdicts that don't hold it: by the verdicts that entries about the pack and its sources
 * gave it. Where one in between is found nowhere, the moment is a later one, which holds more.
 */
async function sinceByHistory(judging: JudgingContext, lot: Lot, upstream: readonly Lot[]): Promise<Since> {
  const histories = await historyOfEach(judging, [lot.code, ...upstream.map(({ code }) => code)]);
  // An entry about several of them is in the history of each.
  const bySeq = new Map([...histories.values()].flat().map((entry) => [entry.seq, entry]));
  const entries = [...bySeq.values()].sort((one, other) => one.seq - other.seq);
  let last: { allergens: readonly string[]; since: Since } | undefined;
  for (const { judged = [], typedAt } of entries) {
    const verdict = judged.find((each) => each.lot === lot.code)?.verdict;
    if (!verdict) continue;
    const since = last ? following(last, verdict.allergens, utcOf(typedAt)) : {};
    last = { allergens: verdict.allergens, since };
  }
  return last?.since ?? {};
}
