import { type Mark, sourceText } from './marks.js';
import type { Finding } from './verdict.js';

export type Clears = 'evidence' | 'reason' | 'authority';

/** What a pack is judged by. The limits of density are the place's own (places.ts) and bring their source with them. */
export interface Rule {
  readonly name: RuleName;
  /** A hold rule holds the lot; an advisory never does. The stored words are `stop` and `advice`. */
  readonly kind: 'stop' | 'advice';
  /**
   * How a lot that it holds may go out again: by new evidence alone (readings, an answer, jars taken off sale); by a
   * release of a maker or owner who gives the reason; by a release of an owner who names the authority asked.
   */
  readonly clears?: Clears;
  /** What it asks, in a sentence. */
  readonly says: string;
  /** What a maker may do about it, the cheapest first; used where the finding names nothing more specific. */
  readonly wayOut?: string;
  readonly source: string;
  readonly mark: Mark;
  /** Date of the copy that was read, or the year; nothing where nothing was read. */
  readonly readOn?: string;
}

/** A new number whenever a rule below, or the way it is judged, changes. Stored in every verdict. */
export const rulesVersion = '2';

const practice = 'common practice, no source';
const gradeStandard = 'US Standards for Grades of Maple Syrup, effective 2 March 2015';
const actualValues = '21 CFR 117.305: records hold the actual values and observations';

const table = [
  {
    name: 'fill-temperature',
    kind: 'stop',
    clears: 'evidence',
    says: 'Every fill temperature, in the jar when it is capped, is 180 °F or 82 °C or more, judged in the unit it was read in.',
    wayOut: 'Pour those jars back, heat the syrup to 190 °F or so, fill and read them again; or destroy them.',
    source: 'maple food-safety handbook, filling hazards',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'fill-not-read',
    kind: 'stop',
    clears: 'evidence',
    says: 'At least one fill temperature was read and written down.',
    wayOut: 'Write the readings that were taken; if none were, pour the jars back, fill them hot again and read them.',
    source: actualValues,
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'fill-perhaps-hot-enough',
    kind: 'stop',
    clears: 'reason',
    says: 'A fill temperature under the limit as read, and over it only after a correction upwards, waits for a maker to release it with the reason.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'thermometer-unreliable',
    kind: 'stop',
    clears: 'reason',
    says: 'No jar was read with a thermometer that a check around it found wrong by an unknown amount, erratic, or so high that the jar would be too cold.',
    source:
      'erratic is two checks of one point that differ by more than 4 °F, or by more than 2 °F on one day: common practice, no source',
    mark: 'practice',
  },
  {
    name: 'readings-too-far-apart',
    kind: 'stop',
    clears: 'reason',
    says: 'Where the house chose to hold for it, fill readings lie no further apart than its interval.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'density-not-read',
    kind: 'stop',
    clears: 'evidence',
    says: 'A density was read since the last boil-up, with an instrument and a sample temperature that can be corrected to 20 °C.',
    wayOut: 'Measure it now: hydrometer and thermometer read in the same cup. Write the reading and the temperature.',
    source: 'Read the float and the thermometer at the same moment: UVM Extension',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'density-too-thin',
    kind: 'stop',
    clears: 'evidence',
    says: 'The density is the least of the place or more: by its chart where it has one, in °Bé where it was read in °Bé, else true °Bx rounded to 0.1.',
    wayOut: 'Pour it back, boil it to its density and pack it again with new readings; or use it at home.',
    source: 'the rules of the place',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'density-measure-again',
    kind: 'stop',
    clears: 'evidence',
    says: 'A density short of the least by no more than the uncertainty of its method is measured again, and a second reading that passes clears it.',
    source: 'the rules of the place',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'density-too-thick',
    kind: 'stop',
    clears: 'evidence',
    says: 'Where the place has a greatest density, the syrup is at it or under it.',
    wayOut: 'Thin it with lighter syrup or sap, boil it up, measure it and pack it again.',
    source: 'the rules of the place',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'seals-failed',
    kind: 'stop',
    clears: 'evidence',
    says: 'Every jar whose seal failed was taken off sale, in words that say how (sold or given is none); where all failed, none may go.',
    wayOut:
      'Take those jars off sale and write how: refrigerated and used at home, packed again, poured back or destroyed.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'broken-glass',
    kind: 'stop',
    clears: 'evidence',
    says: 'Jars filled beside one that broke were inspected or destroyed.',
    source: 'the jars just before and after it, two each way: common practice, no source',
    mark: 'practice',
  },
  {
    name: 'off-flavour',
    kind: 'stop',
    clears: 'evidence',
    says: 'Syrup of a retail grade has no off flavour.',
    wayOut:
      'Taste it again beside a retained sample and write what you find; else sell it in bulk as processing grade, or destroy it.',
    source: gradeStandard,
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'cloudy',
    kind: 'stop',
    clears: 'evidence',
    says: 'Syrup of a retail grade is clear and without sediment.',
    wayOut: 'Let it settle or filter it hot again, pack it with new readings and write how it looks.',
    source: gradeStandard,
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'processing-below-5-gal',
    kind: 'stop',
    clears: 'evidence',
    says: 'Processing grade is packed in containers of 5 gal or more, not for retail.',
    wayOut: 'Pack it in containers of 5 gal or more for other makers; it is not sold at retail.',
    source: gradeStandard,
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'defoamer-allergens',
    kind: 'stop',
    clears: 'evidence',
    says: 'Where a defoamer was used, which allergens it carries was answered (none is an answer).',
    wayOut: 'Read the label of the bottle and write the answer; “none” is an answer.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'allergen-contradiction',
    kind: 'stop',
    // A reason doesn't take the milk out of butter: the answer changes, or the name, where another defoamer was used.
    clears: 'evidence',
    says: 'No defoamer has a name that says an allergen which its answer leaves out (butter is milk, peanut oil is peanuts).',
    source: '21 U.S.C. 321(qq), 343(w), as of 2026-09-12; Food and Drug Regulations B.01.010.1',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'more-in-jars-than-drawn',
    kind: 'stop',
    clears: 'evidence',
    says: 'The jars hold no more than 5 % more syrup than was drawn for them.',
    wayOut:
      'Count the jars and measure what was drawn, correct the one that is wrong, then release the lot with the reason.',
    source: 'what was poured can’t exceed what was drawn; the 5 % for measuring is common practice, no source',
    mark: 'practice',
  },
  {
    name: 'more-sugar-than-came-in',
    kind: 'stop',
    clears: 'reason',
    says: 'The syrup of a boil holds no more sugar than came in with its sap, but for 20 %; sweet left from an earlier boil counts for any amount.',
    source: 'boiling makes no sugar; the 20 % for measuring is common practice, no source',
    mark: 'practice',
  },
  {
    name: 'mould',
    kind: 'stop',
    clears: 'evidence',
    says: 'No jar shows mould, gas or fermentation. A mouldy one is destroyed, never boiled again; the rest wait until other jars were looked at.',
    wayOut: 'Mouldy syrup is destroyed, never released.',
    source: 'University of Maine Extension',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'mould-looked-at',
    kind: 'stop',
    clears: 'reason',
    says: 'Where a jar was mouldy and others were looked at, the sound ones are released with the cause.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'spoilage-question',
    kind: 'stop',
    clears: 'evidence',
    says: 'Words of mould, gas or fermentation in a record are answered: is it spoilage, yes or no.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'equipment-question',
    kind: 'stop',
    clears: 'reason',
    says: 'No boil began in equipment left unrinsed, after a failed water test, or through a part over the limit of lead.',
    source: 'flush with clean water: University of Maine Bulletin 7038; limits of lead: the rules of the place',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'lead-over-limit',
    kind: 'stop',
    clears: 'authority',
    says: 'Where a limit of lead of the place is known, the newest test of the lot is at it or under it.',
    source: 'the rules of the place',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'outside-these-rules',
    kind: 'stop',
    clears: 'authority',
    says: 'The jar holds pure maple syrup. Anything else is not judged here: an owner releases it with the answer of the authority asked.',
    source:
      'the rules here are those of pure maple syrup: US Standards for Grades of Maple Syrup; Canadian Grade Compendium vol. 7',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'held-upstream',
    kind: 'stop',
    clears: 'evidence',
    says: 'No lot that the syrup came from is held or recalled.',
    wayOut: 'Release the lot upstream first: this one is released with it.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'bought-syrup-allergens',
    kind: 'advice',
    says: 'Whoever made bought syrup was asked which allergens their defoamer carries.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'mould-opened-warm',
    kind: 'advice',
    says: 'A jar that was opened is kept cold: open and warm it grows a mould of its own.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'processing-rule-not-read',
    kind: 'advice',
    says: 'Processing grade in small containers: the rule of the place was not read, so ask its authority.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'poured-from-held',
    kind: 'advice',
    says: 'Syrup poured from a held pack was heated again, and the temperature in the kettle was read.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'density-unconfirmed-limit',
    kind: 'advice',
    says: 'A limit of density known only from memory asks to be confirmed with the authority before it stops a lot.',
    source: 'the rules of the place',
    mark: 'memory',
  },
  {
    name: 'density-near-limit',
    kind: 'advice',
    says: 'The density passes by more than the uncertainty of its instrument; nearer than that, measure again.',
    source: 'in a survey about half of the hydrometers were within ±0.2 °Bx: Ohio State University Extension',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'filter-temperature',
    kind: 'advice',
    says: 'The syrup was filtered at 180 °F or 82 °C or more, and the temperature was read.',
    source: 'filter hot, 185 °F or more: MSU Extension; the 180 °F is common practice, no source',
    mark: 'practice',
  },
  {
    name: 'too-hot-at-filling',
    kind: 'advice',
    says: 'The syrup was no hotter than 200 °F or 93.3 °C when filling: above that sugar sand forms again, so filter again.',
    source: 'UVM Extension, 180 to 200 °F',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'short-rest',
    kind: 'advice',
    says: 'The syrup rested about 12 h after filtering, so that sediment settles (never a limit).',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'seals-not-checked',
    kind: 'advice',
    says: 'After 12 to 24 h every lid was checked: it does not spring when pressed, rings when tapped, looks concave.',
    source: 'USDA Agriculture Information Bulletin 539 (1994)',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'not-preheated',
    kind: 'advice',
    says: 'Glass and cans were warmed before they were filled: in a cold jar the syrup drops below 180 °F.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'drawn-more-than-there',
    kind: 'advice',
    says: 'No more was drawn from a lot than was in it.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'boil-hours',
    kind: 'advice',
    says: 'A boil took from half an hour to 24 h; else its times are asked about.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'sap-very-sweet',
    kind: 'advice',
    says: 'Sap was at most 6 °Bx; sweeter sap asks whether it was concentrated by a membrane.',
    source: 'sap of the sugar maple, about 2 °Bx and seldom above 5',
    mark: 'memory',
  },
  {
    name: 'no-sap-recorded',
    kind: 'advice',
    says: 'The sap of a boil that made syrup is recorded.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'thermometer-not-checked',
    kind: 'advice',
    says: 'The thermometer was checked this season, in ice and in boiling water.',
    source: 'thermometer checks stand in the hot-fill records of several extension services',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'thermometer-near-limit',
    kind: 'advice',
    says: 'A reading within 2 °F above the limit was taken with a thermometer checked this season.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'thermometer-read-low',
    kind: 'advice',
    says: 'The thermometer did not read low at the checks around the reading.',
    source: 'ice point 32 °F ± 2 °F: several extension record templates',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'jars-not-covered',
    kind: 'advice',
    says: 'Fill readings name their jars and lie no further apart than the house’s interval: 12 jars or 15 min where it set none.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'left-before-hold',
    kind: 'advice',
    says: 'No jar of a held lot had left before it was held.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'colour-conflict',
    kind: 'advice',
    says: 'The colour class typed is the one the transmittance gives; where they differ the transmittance decides.',
    source: '1 NYCRR 270.1; 7 M.R.S. §892-A; Canadian Grade Compendium vol. 7',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'colour-not-known',
    kind: 'advice',
    says: 'The colour class typed is Golden, Amber, Dark, Very Dark or processing.',
    source: '1 NYCRR 270.1; 7 M.R.S. §892-A; Canadian Grade Compendium vol. 7',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'sent-while-held',
    kind: 'advice',
    says: 'No jar left while its lot was held or recalled.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'already-left',
    kind: 'advice',
    says: 'Jars that had left before they were reported, though their lot might not go out, wait for a maker’s initials.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'sent-more-than-made',
    kind: 'advice',
    says: 'No more jars left than were made.',
    source: 'over 100 % in a practice recall is a finding too: common practice, no source',
    mark: 'practice',
  },
] as const satisfies readonly (Omit<Rule, 'name'> & { name: string })[];

export type RuleName = (typeof table)[number]['name'];

export const rules: readonly Rule[] = table;

const byName = new Map<RuleName, Rule>(rules.map((rule) => [rule.name, rule]));

/**
 * What a rule found. The rule says whether it holds; a limit with a source of its own names that one. `jars` are those
 * that it holds, where not the whole pack; `wayOut` says what the maker may do about it, the cheapest first.
 */
export function findingOf(
  name: RuleName,
  {
    limit,
    found,
    source,
    jars,
    wayOut,
    about,
  }: Pick<Finding, 'limit' | 'found' | 'jars' | 'wayOut' | 'about'> & { source?: string },
): Finding {
  const rule = byName.get(name);
  if (!rule) throw new RangeError(`there is no rule ${name}`);
  return {
    rule: name,
    stop: rule.kind === 'stop',
    limit,
    found,
    source: source ?? sourceText(rule),
    ...(jars ? { jars } : {}),
    ...(rule.kind === 'stop' && (wayOut ?? rule.wayOut) ? { wayOut: wayOut ?? rule.wayOut } : {}),
    ...(about ? { about } : {}),
  };
}

/** How a lot held by this rule may go out again. A rule that this program doesn't know is cleared by evidence alone. */
export const clearsOf = (rule: string): Clears => byName.get(rule as RuleName)?.clears ?? 'evidence';

/** The rules as rows of a Markdown table, for libs/syrup/README.md. */
export function rulesTable(): string {
  const rows = rules.map((rule) => `| ${rule.name} | ${rule.kind} | ${rule.says} | ${sourceText(rule)} |`);
  return ['| rule | kind | what it asks | source |', '|---|---|---|---|', ...rows].join('\n');
}
