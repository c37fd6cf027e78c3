import { actionCauses } from '#libs/actions/kinds/corrective-action.js';
import type { Lot } from '#libs/store/queries/lots.js';
import type { RuleName } from '#libs/syrup/rules/rules.js';

const notWarm = ['cold-jar', 'filled-too-cool'];
const mouldy = ['seal-not-tight', 'filled-too-cool', 'density-too-thin', 'container-not-clean', 'opened-and-kept-warm'];
const allergen = ['bottle-not-read', 'defoamer-changed', 'butter-or-cream-used', 'pans-not-washed'];
const thinOrThick = ['hydrometer', 'sample-cooled-before-it-was-read', 'wrong-line-of-the-chart'];

/** What usually lies behind what a rule finds, in trade terms: common practice, no source. */
const causesOf: Partial<Readonly<Record<RuleName, readonly string[]>>> = {
  'fill-temperature': actionCauses,
  'fill-perhaps-hot-enough': actionCauses,
  'readings-too-far-apart': ['forgotten', 'one-person-alone', 'slow-filling'],
  'fill-not-read': ['forgotten', 'thermometer-broken', 'sheet-lost', 'one-person-alone'],
  'thermometer-unreliable': ['thermometer-dropped', 'thermometer-not-adjusted', 'battery', 'not-checked-before'],
  'density-not-read': ['forgotten', 'hydrometer-broken', 'sample-temperature-not-read'],
  'density-too-thin': ['drawn-off-too-early', 'wet-jars-or-kettle', 'mixed-with-thin-syrup', ...thinOrThick],
  'density-measure-again': thinOrThick,
  'density-too-thick': ['drawn-off-too-late', 'boiled-down-while-packing', ...thinOrThick],
  'seals-failed': ['rim-chipped', 'rim-not-wiped', 'lid-used-before', 'filled-too-low', 'band-loose', ...notWarm],
  'broken-glass': ['cold-jar', 'jar-knocked', 'faulty-jar'],
  'off-flavour': ['buddy-sap', 'sour-sap', 'scorched-pan', 'cleaner-not-rinsed-out', 'musty-filter-or-container'],
  cloudy: ['filter-torn', 'filtered-too-cool', 'heated-over-200-F-after-filtering', 'not-settled'],
  'processing-below-5-gal': ['wrong-grade-written', 'wrong-container'],
  'defoamer-allergens': allergen,
  'allergen-contradiction': allergen,
  'more-in-jars-than-drawn': ['counted-wrong', 'measured-wrong', 'sweet-from-the-last-boil'],
  'more-sugar-than-came-in': ['sweet-from-the-last-boil', 'measured-wrong', 'syrup-added'],
  mould: mouldy,
  'mould-looked-at': mouldy,
  'spoilage-question': mouldy,
  'equipment-question': ['not-rinsed', 'cleaner-left-in', 'well-or-tank-water'],
  'lead-over-limit': ['old-solder', 'lead-alloy-bucket-or-pan', 'brass-fitting'],
  'held-upstream': ['syrup-of-a-held-lot'],
};

/** By the name that a stored verdict has, which an older book may have under rules that are gone. */
const byRule: ReadonlyMap<string, readonly string[]> = new Map(Object.entries(causesOf));

/** Causes to pick from for what holds a lot, the likeliest first; the usual ones of filling where no rule holds it. */
export function usualCauses(lot: Lot | undefined): readonly string[] {
  const held = (lot?.verdict?.findings ?? []).filter(({ stop }) => stop);
  const causes = [...new Set(held.flatMap(({ rule }) => byRule.get(rule) ?? []))];
  return causes.length > 0 ? causes.slice(0, maxCauses) : actionCauses;
}

/** More chips than these are slower to read than a word is to type. */
const maxCauses = 10;
