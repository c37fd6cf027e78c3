import type { FillReading } from '../quantities/fill-readings.js';
import { rules, type Rule, type RuleName } from './rules.js';
import { shown } from '../quantities/decimal-text.js';
import type { Finding } from './verdict.js';

/** A value as recorded, and who recorded it last. */
export interface Recorded {
  readonly value: string;
  readonly by: string;
}

/** A reading in a jar with who recorded it. */
export interface FillRecorded {
  readonly fill: FillReading;
  readonly by: string;
}

/** The last check of an instrument before it was used; absent where none is recorded. */
export interface LastCheck {
  readonly at: string;
  readonly how: string;
  readonly should?: string | undefined;
  readonly reads?: string | undefined;
  readonly by: string;
}

/** All that answers why a pack may go out. What was not recorded is absent. */
export interface OpenFacts {
  readonly findings: readonly Finding[];
  readonly fills: readonly FillRecorded[];
  readonly checks: ReadonlyMap<string, LastCheck | undefined>;
  readonly density?:
    (Recorded & { readonly sampleAt?: string | undefined; readonly with?: string | undefined }) | undefined;
  readonly seals?: Recorded | undefined;
  readonly sealsOutcome?: Recorded | undefined;
  readonly product?: Recorded | undefined;
  readonly clarity?: Recorded | undefined;
  readonly offFlavour?: Recorded | undefined;
  readonly colour?: Recorded | undefined;
  readonly jars: number | null;
  readonly container: string;
  readonly drawn: readonly string[];
  readonly defoamers: readonly {
    readonly lot: string;
    readonly defoamer: string;
    readonly allergens: string;
    readonly by: string;
  }[];
  readonly upstream: readonly { readonly lot: string; readonly state: string }[];
  readonly complaints: readonly { readonly id: string; readonly mould: string; readonly by: string }[];
}

/** What a hold rule was answered with. `met` by something recorded; `not-recorded` where nothing was and nothing holds. */
export interface WhyLine {
  readonly rule: RuleName;
  readonly asks: string;
  readonly state: 'met' | 'not-recorded' | 'accepted' | 'holds';
  /** The readings and answers that satisfied it, each with its instrument, check and person. */
  readonly because: readonly string[];
  readonly notRecorded: readonly string[];
}

/** Every hold rule with what satisfied it: the answer to "why is it open?", from what was recorded and nothing else. */
export const whyOpen = (facts: OpenFacts): WhyLine[] =>
  rules.filter(({ kind }) => kind === 'stop').map((rule) => lineOf(rule, facts));

function lineOf(rule: Rule, facts: OpenFacts): WhyLine {
  const own = facts.findings.filter((finding) => finding.rule === rule.name);
  const { because, notRecorded = [] } = answers[rule.name]?.(facts) ?? { because: ['nothing recorded breaks it'] };
  const line = { rule: rule.name, asks: rule.says, notRecorded };
  const held = own.filter(({ stop }) => stop);
  if (held.length > 0) return { ...line, state: 'holds', because: held.map(({ found }) => `found ${found}`) };
  const accepted = own.filter((finding) => finding.accepted);
  if (accepted.length > 0)
    return {
      ...line,
      state: 'accepted',
      because: accepted.map(
        ({ found, accepted: by }) => `found ${found}; released by ${by?.by}, ${minute(by?.at ?? '')}: ${by?.why}`,
      ),
    };
  return { ...line, state: because.length > 0 ? 'met' : 'not-recorded', because };
}

interface Answer {
  readonly because: readonly string[];
  readonly notRecorded?: readonly string[];
}
type Answers = Readonly<Partial<Record<RuleName, (facts: OpenFacts) => Answer>>>;

const answers: Answers = {
  'fill-temperature': ({ fills, checks }) => ({
    because: fills.map((each) => formatFill(each, checks)),
    notRecorded: fillGaps(fills, checks),
  }),
  'fill-not-read': ({ fills }) =>
    fills.length > 0
      ? { because: [`${fills.length} ${fills.length === 1 ? 'reading' : 'readings'}`] }
      : { because: [], notRecorded: ['a temperature in the jar'] },
  'density-not-read': ({ density }) => densityAnswer(density),
  'density-too-thin': ({ density }) => densityAnswer(density),
  'density-too-thick': ({ density }) => densityAnswer(density),
  'seals-failed': ({ seals, sealsOutcome }) =>
    seals
      ? {
          because: [
            `${seals.value} failed, by ${seals.by}`,
            ...(sealsOutcome ? [`what became of them: ${sealsOutcome.value}, by ${sealsOutcome.by}`] : []),
          ],
        }
      : { because: [], notRecorded: ['the check of the seals: until then no jar is sold or given'] },
  'off-flavour': ({ offFlavour }) => recordedOr(offFlavour, 'the taste'),
  cloudy: ({ clarity }) => recordedOr(clarity, 'the clarity'),
  'processing-below-5-gal': ({ colour }) => recordedOr(colour, 'the colour or its class'),
  'defoamer-allergens': ({ defoamers }) => ({
    because: defoamers
      .filter(({ defoamer }) => defoamer !== '')
      .map(
        (each) =>
          `${each.lot}: ${each.defoamer}${each.allergens ? `, allergens ${each.allergens}` : ''}, by ${each.by}`,
      ),
    notRecorded: defoamers.filter(({ defoamer }) => defoamer === '').map(({ lot }) => `whether ${lot} had a defoamer`),
  }),
  'more-in-jars-than-drawn': ({ jars, container, drawn }) => ({
    because: jars === null ? [] : [`${jars} × ${container} from ${drawn.join(' and ') || 'an amount not recorded'}`],
  }),
  'outside-these-rules': ({ product }) =>
    product
      ? { because: [`${product.value}, by ${product.by}`] }
      : { because: ['no other product is recorded: blank is pure maple syrup'] },
  mould: ({ complaints }) => ({
    because: [
      'no mould is recorded of it',
      ...complaints.map(({ id, mould, by }) => `${id}: mould ${mould || 'not recorded'}, by ${by}`),
    ],
    notRecorded: complaints.filter(({ mould }) => mould === '').map(({ id }) => `whether the jar of ${id} was mouldy`),
  }),
  'held-upstream': ({ upstream }) => ({ because: upstream.map(({ lot, state }) => `${lot} is ${state}`) }),
};

const recordedOr = (recorded: Recorded | undefined, what: string): Answer =>
  recorded ? { because: [`${recorded.value}, by ${recorded.by}`] } : { because: [], notRecorded: [what] };

function densityAnswer(density: OpenFacts['density']): Answer {
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
function formatFill({ fill, by }: FillRecorded, checks: OpenFacts['checks']): string {
  const when = fill.clock ? ` at ${fill.clock}` : '';
  const jars = fill.jars ? `, ${fill.jars}` : '';
  const id = fill.thermometer;
  const check = id === undefined ? undefined : checks.get(id);
  return `${shown(fill.temperature)}${when}${jars}${id ? `, with ${id} (${check ? formatCheck(check) : 'no check recorded'})` : ''}, by ${by}`;
}

const formatCheck = ({ at, how, should, reads, by }: LastCheck): string =>
  `${how.replaceAll('-', ' ')} ${at.slice(0, 10)}: should read ${should ?? 'not recorded'}, read ${reads ?? 'not recorded'}, by ${by}`;

function fillGaps(fills: readonly FillRecorded[], checks: OpenFacts['checks']): string[] {
  if (fills.length === 0) return ['a temperature in the jar'];
  const missing = (has: (fill: FillReading) => unknown): boolean => fills.some(({ fill }) => !has(fill));
  return [
    ...(missing(({ thermometer }) => thermometer) ? ['which thermometer took every reading'] : []),
    ...(missing(({ clock }) => clock) ? ['when every reading was taken'] : []),
    ...(missing(({ jars }) => jars) ? ['which jars every reading stands for'] : []),
    ...[...checks].filter(([, check]) => !check).map(([id]) => `a check of ${id}`),
  ];
}

const minute = (at: string): string => at.slice(0, 16).replace('T', ' ');
