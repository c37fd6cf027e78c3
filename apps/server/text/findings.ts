import { ruleTitle } from '#libs/syrup/rules/rules.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import { withBoxNames } from './box-names.js';

export interface FindingView extends Finding {
  readonly text: string;
  /** What may be done about it; never that it is safe. */
  readonly mayDo: string;
}

/** Findings that hold a lot first, each with what may be done. */
export function findingViews(findings: readonly Finding[]): FindingView[] {
  return [...findings]
    .sort((a, b) => Number(b.stop) - Number(a.stop))
    .map((finding) => ({
      ...finding,
      text: ruleTitle(finding.rule),
      mayDo: withBoxNames(finding.wayOut ?? remedies[finding.rule] ?? ''),
    }));
}

const remedies: Readonly<Record<string, string>> = {
  'fill-temperature':
    'Keep the jars back. Pour back, bring to a boil, read the density again and pack hot into fresh boiled jars; record what was done with the new readings. Or keep cold and use at home, or destroy.',
  'fill-not-read':
    'It cannot be read afterwards. Pour back, heat again and pack with a reading in the jar; record it as a corrective action.',
  'density-not-read':
    'Read a sample now, hydrometer and thermometer at the same moment, and save it. The lot stays held until then.',
  'density-too-thin': 'Boil it further, read again and pack anew; record what was done with the new readings.',
  'density-measure-again':
    'Measure again, about 5 min: a fresh sample near the temperature the instrument was made for, or another instrument, and record the reading as a corrective action. If it passes, release the lot; if not, boil it further and pack again.',
  'density-too-thick': 'Thin it with hot water or lighter syrup, boil, read again and pack anew.',
  'seals-failed': 'Record what became of those jars: kept cold and used, heated and packed again, or destroyed.',
  'off-flavour': 'Not for retail. Send it as processing grade in bulk where your place allows, or destroy it.',
  cloudy: 'Filter hot again, boil, read again and pack anew; or processing grade in bulk.',
  'processing-below-5-gal': 'Pour together into containers of 5 gal or more, or keep at home.',
  'defoamer-allergens': 'Read the defoamer’s own label and record the answer; “none” is an answer.',
  'more-in-jars-than-drawn': 'A number is off: count the jars, or correct how much was drawn.',
  'more-sugar-than-came-in':
    'Add the syrup left in the pans from the last boil, or correct the amount of sap, its sugar or the syrup. If the numbers are right, a maker may release the boil and say why.',
  mould: 'Destroy what is mouldy: boiling it again is not shown to make it safe.',
  'held-upstream': 'Release the source lot first, or leave this one held.',
};
