import type { FillReading } from '../quantities/fill-readings.js';
import { formatSpans } from '../jars/jar-spans.js';
import { offSaleText } from '../jars/jars-on-sale.js';
import type { holdRules } from './hold-rules.js';
import type { RuleEvidence, CheckRecorded, FillRecorded, OpenFacts, Recorded } from './open-facts.js';
import { formatReading } from './format-reading.js';
import { rules, type Rule, type RuleName } from './rules.js';
import type { Finding } from './verdict.js';

/** A hold rule with its evidence. `met`: records satisfy it; `not-recorded`: nothing was recorded, and nothing holds. */
export interface WhyLine {
  readonly rule: RuleName;
  readonly asks: string;
  readonly state: 'met' | 'no-limit' | 'not-recorded' | 'accepted' | 'off-sale' | 'holds';
  /** The readings and answers that satisfied it, each with its instrument, check and person. */
  readonly because: readonly string[];
  readonly notRecorded: readonly string[];
}

/** Explains why a pack is open: every hold rule with the records that satisfy it. */
export const whyOpen = (facts: OpenFacts): WhyLine[] =>
  rules.filter(isHoldRule).map((rule) => lineOf(rule, facts.findings, evidenceByRule[rule.name](facts)));

/** The same for a boil, by the rules that judge boils. */
export const whyBoilOpen = ({ findings, sugar, sap, equipment, lead }: BoilOpenFacts): WhyLine[] => {
  const ofBoil: Readonly<Partial<Record<RuleName, RuleEvidence>>> = {
    'more-sugar-than-came-in': sugar,
    'equipment-question': equipment,
    'sap-question': sap,
    'lead-over-limit': lead,
  };
  return rules.flatMap((rule) => {
    const answer = ofBoil[rule.name];
    return answer ? [lineOf(rule, findings, answer)] : [];
  });
};
export type BoilOpenFacts = Pick<OpenFacts, 'findings' | 'sugar' | 'sap' | 'equipment' | 'lead'>;

type HoldRuleName = (typeof holdRules)[number]['name'];
const isHoldRule = (rule: Rule): rule is Rule & { readonly name: HoldRuleName } => rule.kind === 'stop';

function lineOf(rule: Rule, findings: readonly Finding[], answer: RuleEvidence): WhyLine {
  const own = findings.filter((finding) => finding.rule === rule.name);
  const { because, notRecorded = [], isJudged = true, hasLimit = true } = answer;
  const line = { rule: rule.name, asks: rule.says, notRecorded };
  const held = own.filter(({ stop }) => stop);
  if (held.length > 0) return { ...line, state: 'holds', because: held.map(({ found }) => `found ${found}`) };
  const accepted = own.filter((finding) => finding.accepted);
  if (accepted.length > 0)
    return {
      ...line,
      state: 'accepted',
      because: accepted.map(
        ({ found, accepted: by }) => `found ${found}; released by ${by?.by}, ${formatMinute(by?.at ?? '')}: ${by?.why}`,
      ),
    };
  const offSale = own.filter((finding) => finding.offSale);
  if (offSale.length > 0) return { ...line, state: 'off-sale', because: offSale.map(formatOffSale) };
  if (!hasLimit) return { ...line, state: 'no-limit', because };
  return { ...line, state: isJudged && because.length > 0 ? 'met' : 'not-recorded', because };
}

/** The evidence of each rule; a new rule doesn’t compile without an entry. */
const evidenceByRule: Readonly<Record<HoldRuleName, (facts: OpenFacts) => RuleEvidence>> = {
  'fill-temperature': ({ fills, checks }) => ({
    because: fills.map((each) => formatFill(each, checks)),
    notRecorded: missingFillDetails(fills, checks),
  }),
  'fill-not-read': ({ fills, uncovered }) => ({
    because: fills.length > 0 ? [`${fills.length} ${fills.length === 1 ? 'reading' : 'readings'}`] : [],
    notRecorded: [
      ...(fills.length > 0 ? [] : ['a temperature in the jar']),
      ...(uncovered.length > 0 ? [`a reading for ${formatSpans(uncovered)}`] : []),
    ],
  }),
  'fill-perhaps-hot-enough': ({ fills }) => lowestAsRead(fills),
  'thermometer-unreliable': ({ fills, checks }) => thermometerEvidence(fills, checks),
  'readings-too-far-apart': ({ fills, uncovered, interval, findings }) => ({
    because:
      fills.length === 0
        ? []
        : [
            `${fills.length} ${fills.length === 1 ? 'reading' : 'readings'}; the sugarhouse’s interval is ${interval.typed}${interval.holds ? '' : ', and a longer gap doesn’t hold the lot'}`,
            ...foundBy(findings, 'jars-not-covered'),
          ],
    notRecorded: [
      ...(fills.length === 0 ? ['a temperature in the jar'] : []),
      ...(uncovered.length > 0 ? [`a reading for ${formatSpans(uncovered)}`] : []),
    ],
    isJudged: uncovered.length === 0,
    hasLimit: interval.holds || fills.length === 0,
  }),
  'density-not-read': ({ density }) => densityEvidence(density),
  'hydrometer-temperature': ({ density }) => densityEvidence(density),
  'density-too-thin': ({ density }) => densityEvidence(density),
  'density-measure-again': ({ density }) => densityEvidence(density),
  'density-too-thick': ({ density, hasMaximumDensity }) =>
    hasMaximumDensity ? densityEvidence(density) : { because: ['the place has no greatest density'], hasLimit: false },
  'seals-failed': ({ seals, sealsOutcome, findings }) =>
    seals
      ? {
          // Seals counted while the jars were warm, or before some were packed again, are no check.
          notRecorded: foundBy(findings, 'seals-not-checked'),
          isJudged: foundBy(findings, 'seals-not-checked').length === 0,
          because: [
            `${seals.value} failed, by ${seals.by}`,
            ...(sealsOutcome ? [`what became of them: ${sealsOutcome.value}, by ${sealsOutcome.by}`] : []),
          ],
        }
      : { because: [], notRecorded: ['the seal check: until then no jar may be sold or given away'] },
  'broken-glass': ({ brokenGlass }) =>
    brokenGlass
      ? { because: [`broke at jar ${brokenGlass.value}, by ${brokenGlass.by}, and what was done about it is recorded`] }
      : { because: [], notRecorded: ['broken glass'] },
  'glass-poured-in': (facts) => pouredEvidence(facts, 'splinters'),
  'off-flavour': ({ offFlavour }) => recordedOr(offFlavour, 'the taste'),
  cloudy: ({ clarity }) => recordedOr(clarity, 'the clarity'),
  'processing-below-5-gal': ({ colour }) => recordedOr(colour, 'the colour or its class'),
  'defoamer-allergens': ({ defoamers }) => defoamerEvidence(defoamers),
  'allergen-contradiction': ({ defoamers }) => defoamerEvidence(defoamers),
  'bought-syrup-allergens': ({ bought }) => ({
    because:
      bought.length === 0
        ? ['none of its syrup was bought']
        : bought.flatMap(({ lot, allergens, by }) =>
            allergens === '' ? [] : [`${lot}: allergens ${allergens}, by ${by}`],
          ),
    notRecorded: bought.flatMap(({ lot, allergens }) => (allergens === '' ? [`the allergens of ${lot}`] : [])),
    isJudged: bought.every(({ allergens }) => allergens !== ''),
  }),
  'undeclared-allergen': ({ labels }) => labels,
  'undeclared-allergen-sent': ({ labels }) => labels,
  'label-net-quantity': ({ labels }) => labels,
  'labels-replaced': ({ labels }) => labels,
  'more-in-jars-than-drawn': ({ jars, container, drawn }) => ({
    because: jars === null ? [] : [`${jars} × ${container} from ${drawn.join(' and ') || 'an amount not recorded'}`],
  }),
  'more-sugar-than-came-in': ({ sugar }) => sugar,
  mould: (facts) => inspectionEvidence(facts),
  'mould-looked-at': (facts) => inspectionEvidence(facts),
  'spoilage-question': (facts) => questionEvidence(facts, 'mould, gas or fermentation'),
  'harm-question': (facts) => questionEvidence(facts, 'illness, something in the syrup or a chemical'),
  'harm-reported': ({ complaints }) =>
    complaints.length === 0
      ? { because: [], notRecorded: ['a complaint'] }
      : { because: [`${complaints.map(({ id }) => id).join(', ')}: not answered as harm`] },
  'harm-in-same-syrup': ({ harmElsewhere }) => harmElsewhere,
  'note-question': ({ note }) => recordedOr(note, 'a note'),
  'instrument-in-doubt': ({ note }) => recordedOr(note, 'a note'),
  'sources-incomplete': ({ note }) => recordedOr(note, 'a note'),
  'container-question': ({ container }) => ({ because: [container] }),
  'unfit-container': ({ container }) => ({ because: [container] }),
  'thin-syrup-question': (facts) => pouredEvidence(facts, 'thin syrup'),
  'unit-question': ({ density }) => densityEvidence(density),
  'kettle-too-cold': ({ kettle }) => recordedOr(kettle, 'the temperature in the kettle'),
  'equipment-question': ({ equipment }) => equipment,
  'sap-question': ({ sap }) => sap,
  'lead-over-limit': ({ lead }) => lead,
  'outside-these-rules': ({ product }) => recordedOr(product, 'the product: it is judged as pure maple syrup'),
  'held-upstream': ({ upstream }) => ({ because: upstream.map(({ lot, state }) => `${lot} is ${state}`) }),
};

const foundBy = (findings: readonly Finding[], rule: RuleName): string[] =>
  findings.filter((finding) => finding.rule === rule).map(({ found }) => found);

const defoamerEvidence = (defoamers: OpenFacts['defoamers']): RuleEvidence => ({
  because: defoamers
    .filter(({ defoamer }) => defoamer !== '')
    .map(
      (each) => `${each.lot}: ${each.defoamer}${each.allergens ? `, allergens ${each.allergens}` : ''}, by ${each.by}`,
    ),
  notRecorded: defoamers.filter(({ defoamer }) => defoamer === '').map(({ lot }) => `whether ${lot} had a defoamer`),
  isJudged: defoamers.every(({ defoamer }) => defoamer !== ''),
});

/** Not judged where a jar was mouldy but holds nothing (opened and kept warm): that shows nothing about the others. */
const inspectionEvidence = ({ complaints, mould: own }: OpenFacts): RuleEvidence => ({
  because: [
    ...(own ? [`mould ${own.value}, by ${own.by}`] : []),
    ...complaints.flatMap(({ id, mould, by }) => (mould === '' ? [] : [`${id}: mould ${mould}, by ${by}`])),
  ],
  notRecorded: [
    ...(complaints.length === 0 && !own ? ['whether any jar was mouldy'] : []),
    ...complaints.filter(({ mould }) => mould === '').map(({ id }) => `whether the jar of ${id} was mouldy`),
  ],
  isJudged: ![own?.value ?? '', ...complaints.map(({ mould }) => mould)].some((mould) => /^yes/i.test(mould)),
});

const questionEvidence = ({ complaints, answered }: OpenFacts, what: string): RuleEvidence => ({
  because:
    answered.length > 0 || complaints.length === 0
      ? answered
      : [`${complaints.map(({ id }) => id).join(', ')}: no open question about ${what}`],
  notRecorded: complaints.length === 0 ? ['a complaint'] : [],
});

/** The lowest fill reading as read, before any correction. */
function lowestAsRead(fills: readonly FillRecorded[]): RuleEvidence {
  const [lowest] = [...fills].sort((a, b) => a.reading.fill.temperature.celsius - b.reading.fill.temperature.celsius);
  if (!lowest) return { because: [], notRecorded: ['a temperature in the jar'] };
  return { because: [`the lowest as read, before any correction: ${formatReading(lowest.reading)}, by ${lowest.by}`] };
}

function thermometerEvidence(fills: readonly FillRecorded[], checks: OpenFacts['checks']): RuleEvidence {
  const ids = [...new Set(fills.flatMap(({ reading }) => reading.by?.thermometer.id ?? []))];
  const checked = ids.filter((id) => (checks.get(id) ?? []).length > 0);
  return {
    because: checked.map((id) => `${id}: ${(checks.get(id) ?? []).map(formatCheck).join('; ')}`),
    notRecorded: [
      ...ids.filter((id) => !checked.includes(id)).map((id) => `a check of ${id}`),
      ...(fills.some(({ reading }) => !reading.by) ? ['any thermometer of the house'] : []),
    ],
    isJudged: checked.length === ids.length && fills.every(({ reading }) => reading.by),
  };
}

const pouredEvidence = ({ pouredFrom }: OpenFacts, what: string): RuleEvidence => ({
  because: pouredFrom.length === 0 ? ['none of its syrup was poured from a pack'] : [],
  notRecorded: pouredFrom.map((lot) => `${what} poured in from ${lot}`),
});

const recordedOr = (recorded: Recorded | undefined, what: string): RuleEvidence =>
  recorded ? { because: [`${recorded.value}, by ${recorded.by}`] } : { because: [], notRecorded: [what] };

function densityEvidence(density: OpenFacts['density']): RuleEvidence {
  if (!density) return { because: [], notRecorded: ['a density'] };
  const sample = density.sampleAt ? ` at ${density.sampleAt}` : '';
  return {
    because: [`${density.value}${sample}${density.with ? ` with ${density.with}` : ''}, by ${density.by}`],
    notRecorded: [
      ...(density.sampleAt ? [] : ['the sample temperature']),
      ...(density.with ? [] : ['which instrument']),
    ],
  };
}

/** `185 °F at 10:25, jars 9-16, with T1 (ice 2026-03-01: should read 32 F, read 32.5 F, by WE), by OE` */
function formatFill({ reading, by }: FillRecorded, checks: OpenFacts['checks']): string {
  const { by: read } = reading;
  if (!read) return `${formatReading(reading)}, by ${by}`;
  const { id } = read.thermometer;
  const own = checks.get(id) ?? [];
  const checked = own.length > 0 ? own.map(formatCheck).join('; ') : 'no check recorded';
  const which = read.isAssumed ? `with a thermometer that is not named, taken to be ${id}` : `with ${id}`;
  return `${formatReading(reading)}, ${which} (${checked}), by ${by}`;
}

const formatCheck = ({ at, how, should, reads, by }: CheckRecorded): string =>
  `${how.replaceAll('-', ' ')} ${at.slice(0, 10)}: should read ${should ?? 'not recorded'}, read ${reads ?? 'not recorded'}, by ${by}`;

function missingFillDetails(fills: readonly FillRecorded[], checks: OpenFacts['checks']): string[] {
  if (fills.length === 0) return ['a temperature in the jar'];
  const missing = (has: (fill: FillReading) => unknown): boolean => fills.some(({ reading }) => !has(reading.fill));
  const ids = new Set(fills.flatMap(({ reading }) => reading.by?.thermometer.id ?? []));
  return [
    ...(missing(({ thermometer }) => thermometer) ? ['which thermometer took each reading'] : []),
    ...(missing(({ clock }) => clock) ? ['when each reading was taken'] : []),
    ...(missing(({ jars }) => jars) ? ['which jars each reading covers'] : []),
    ...[...ids].filter((id) => (checks.get(id) ?? []).length === 0).map((id) => `a check of ${id}`),
  ];
}

/** `found 176 °F; every jar of it was poured back or destroyed, the last by OE, 2026-03-20 14:00` */
const formatOffSale = ({ found, offSale }: Finding): string => `found ${found}; ${offSale ? offSaleText(offSale) : ''}`;

const formatMinute = (at: string): string => at.slice(0, 16).replace('T', ' ');
