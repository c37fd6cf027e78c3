import { ordinal, formatRounded } from '../quantities/format-quantities.js';
import { millilitresIn } from '../quantities/units.js';
import type {
  AcceptableRule,
  CheckEvidence,
  Evidence,
  EvidenceByRule,
  FillEvidence,
  Gap,
  ReadingEvidence,
  SpoilageEvidence,
  SugarEvidence,
} from './finding-evidence.js';

/**
 * The sentences of findings as releases stored them before they stored the evidence (until November 2026). Only such a
 * release is compared with them, so that a finding may be worded otherwise today. They are never changed: a changed one
 * would hold the lots of old books again. `tests/fixtures/releases` is a book with all of them.
 */
type Sentences = {
  readonly [Rule in AcceptableRule]: (evidence: EvidenceByRule[Rule]) => readonly string[];
};

/** Every sentence under which an old release may have accepted the finding of this rule with this evidence. */
export function storedSentencesOf(rule: string, evidence: Evidence): readonly string[] {
  if (!Object.hasOwn(sentences, rule)) return [];
  return (sentences[rule as AcceptableRule] as (evidence: Evidence) => readonly string[])(evidence);
}

const sentences: Sentences = {
  'fill-perhaps-hot-enough': (evidence) => [fillSentence(evidence)],
  'thermometer-unreliable': (evidence) => [fillSentence(evidence)],
  'readings-too-far-apart': ({ gaps }) => [gaps.map(gapText).join('; ')],
  // These rules came after releases stored the evidence.
  'glass-poured-in': () => [],
  'harm-in-same-syrup': () => [],
  'instrument-in-doubt': () => [],
  'sources-incomplete': () => [],
  'unfit-container': () => [],
  'kettle-too-cold': () => [],
  'sap-question': () => [],
  'labels-replaced': () => [],
  'undeclared-allergen-sent': () => [],
  // In the unit of the book, which may have moved to another country since.
  'more-sugar-than-came-in': (evidence) => [sugarSentence(evidence, 'gal'), sugarSentence(evidence, 'L')],
  'mould-looked-at': (evidence) => [spoilageSentence(evidence)],
  'harm-reported': ({ about, says }) => [
    `${named(about)} says ${says.map((word) => `“${word}”`).join(', ')}: illness, something in the syrup or a chemical`,
  ],
  'equipment-question': (evidence) => [equipmentSentence(evidence)],
  'lead-over-limit': ({ lot, over }) =>
    over.slice(-1).map((last) => `lead test ${last.leadTest} of ${lot} read ${last.lead}`),
  'outside-these-rules': (evidence) => [productSentence(evidence)],
};

/** `complaint/CO0001` → `complaint CO0001` */
const named = (about: string): string => about.replace('/', ' ');

const mostNamed = 5;
function fillSentence({ readings }: FillEvidence): string {
  const texts = readings.slice(0, mostNamed).map((each) => [readingText(each), ...suspectText(each)].join(', '));
  return texts.join('; ') + (readings.length > mostNamed ? `; and ${readings.length - mostNamed} more` : '');
}

const readingText = (reading: ReadingEvidence): string =>
  [
    correctedText(reading),
    reading.readings === 1 ? 'the only reading' : `the ${ordinal(reading.nth)} of ${reading.readings} readings`,
    ...(reading.at === undefined ? [] : [`at ${clockText(reading.at)}`]),
    ...(reading.jars ? [reading.jars] : []),
  ].join(', ');

/** Old sentences left out a thermometer's error of up to 2 °F unless it decided the verdict. */
const leftUnsaid = { F: 2, C: 2 / 1.8 } as const;

function correctedText({ read, correction, corrected, thermometer, isAssumed, suspect }: ReadingEvidence): string {
  const [degrees = '', unit] = read.split(' ') as [string, 'F' | 'C'];
  const asTyped = `${degrees} °${unit}`;
  if (thermometer === undefined || (suspect && Math.abs(correction) <= leftUnsaid[unit])) return asTyped;
  const which = isAssumed ? `the thermometer, taken to be ${thermometer},` : thermometer;
  return `${corrected} °${unit} after correction (${which} showed ${asTyped} and reads ${errorText(correction, unit)} there)`;
}

const errorText = (correction: number, unit: 'F' | 'C'): string =>
  `${Math.abs(correction)} °${unit} ${correction > 0 ? 'low' : 'high'}`;

const clockText = (clock: string): string =>
  clock.includes('T') ? `${clock.slice(11, 16)} on ${clock.slice(0, 10)}` : clock;

function suspectText({ suspect, thermometer, isAssumed }: ReadingEvidence): string[] {
  if (!suspect) return [];
  const who = isAssumed ? `by a thermometer taken to be ${thermometer}` : `by ${thermometer}`;
  const checks = suspect.checks.map((each) => ({ reads: checkReads(each), name: checkName(each) }));
  return [
    {
      'wrong-by-unknown-amount': `${who}, found wrong by an unknown amount (${checks.map(({ name }) => name).join()})`,
      erratic: `${who}, which reads erratically (${checks.map(({ reads, name }) => `${reads}, ${name}`).join('; ')})`,
      'out-of-use': `${who}, recorded as out of use before (${checks.map(({ name }) => name).join()})`,
      'read-high': `${who}, which ${checks.map(({ reads, name }) => `${reads} (${name})`).join()}`,
    }[suspect.because],
  ];
}

const checkName = ({ check, day }: CheckEvidence): string => `check ${check}${day ? `, ${day}` : ''}`;

function checkReads({ correction, unit = 'F', passed }: CheckEvidence): string {
  if (correction === undefined) return passed ? 'right' : 'wrong';
  return correction === 0 ? 'read right' : `read ${errorText(correction, unit)}`;
}

function gapText(gap: Gap): string {
  switch (gap.by) {
    case 'jars':
      return `${gap.readings === 0 ? 'no reading' : 'one reading'} for jars ${gap.from}–${gap.to}`;
    case 'time':
      return `no reading for ${gap.minutes} min, from ${gap.from} to ${gap.to}`;
    case 'count':
      return `${gap.readings === 1 ? 'one reading' : `${gap.readings} readings`} for ${gap.jars} jars, and no jar numbers`;
  }
}

function sugarSentence({ boil, syrupMl, sap }: SugarEvidence, unit: 'gal' | 'L'): string {
  const amount = (ml: number): string => {
    const inUnit = ml / millilitresIn[unit];
    return `${formatRounded(inUnit, Math.abs(inUnit) < 0.1 ? 4 : 2)} ${unit}`;
  };
  const sapMl = sap.reduce((sum, { ml }) => sum + ml, 0);
  return `boil ${boil}: ${amount(syrupMl)} of syrup from ${amount(sapMl)} of ${sapText(sap)}. Was sweet left from the last boil in the pans, or is one of the amounts wrong?`;
}

function sapText(sap: SugarEvidence['sap']): string {
  const read = sap.filter(({ isRead }) => isRead).map(({ brix }) => brix);
  const unread = 'sap whose sugar was not read, counted as 40 °Bx';
  if (read.length === 0) return unread;
  const [least, most] = [Math.min(...read), Math.max(...read)];
  const sugar = least === most ? `sap at ${most} °Bx` : `sap at ${least} to ${most} °Bx`;
  return read.length === sap.length ? sugar : `${sugar} and ${unread}`;
}

const signs: Readonly<Record<string, string>> = {
  bulging: 'the lid or the jar bulges',
  spurting: 'it spurted when it was opened',
  'fermented-or-sour': 'smells fermented or sour',
};

function spoilageSentence({ signs: found, otherPacks = [], mouldy, sound }: SpoilageEvidence): string {
  const each = found.map(({ about, mould, seen = [], came }) =>
    [
      named(about),
      ...(mould === 'yes' ? ['mould'] : []),
      ...seen.map((sign) => signs[sign] ?? sign),
      ...(came ? [`came ${came.replace('-', ' and kept ')}`] : []),
    ].join(', '),
  );
  const inOthers = otherPacks.reduce((sum, pack) => sum + pack.mouldy, 0);
  const what =
    found.length > 0
      ? `mould or another sign of spoilage: ${each.join('; ')}`
      : `${inOthers} mouldy jars that came sealed, of the same boil: ${otherPacks.map(({ lot }) => lot).join(', ')}`;
  return `${what}; ${mouldy + sound} other jars looked at: ${mouldy} mouldy, ${sound} sound`;
}

function equipmentSentence(evidence: EvidenceByRule['equipment-question']): string {
  const { boil } = evidence;
  if ('cleaning' in evidence)
    return `boil ${boil} began after cleaning ${evidence.cleaning} of ${evidence.equipment}, which was not rinsed: did sap or syrup touch it before it was rinsed?`;
  if ('waterTest' in evidence)
    return `boil ${boil} began after water test ${evidence.waterTest} of ${evidence.source} found “${evidence.result}”: did that water touch anything that syrup touches after it was boiled?`;
  return `boil ${boil} began after lead test ${evidence.leadTest} of ${evidence.equipment} read ${evidence.lead}, over the ${evidence.limitPpb} ppb of ${evidence.place}: did it go through it?`;
}

function productSentence({ kind, product, pouredFrom, note, added }: EvidenceByRule['outside-these-rules']): string {
  if (note !== undefined)
    return `product: not written, and the note says “${note.slice(0, 80)}” (${added}). ${products['flavoured']}`;
  const [from] = pouredFrom;
  const name = product ?? `poured from ${from?.lot}, which is ${from?.product}`;
  return `product: ${name}. ${products[kind] ?? ''}`;
}

const products: Readonly<Record<string, string>> = {
  infused:
    'What was steeped in it (herbs, spices, fruit, garlic) brings water, spores and perhaps allergens that hot filling is not shown to deal with.',
  flavoured: 'What was added to it changes its water, its acid and its allergens; a density doesn’t judge the mixture.',
  'barrel-aged':
    'A barrel gives water, alcohol and whatever it held before; a density read before the barrel says nothing of the syrup after it.',
  cream:
    'Maple cream is stirred as it cools and filled cool: it keeps by how little water is free in it, which this book doesn’t measure.',
  butter:
    'Maple butter or spread is stirred as it cools and filled cool: it keeps by how little water is free in it, which this book doesn’t measure.',
  candy: 'Maple candy keeps by how little water is free in it, which this book doesn’t measure.',
  sugar: 'Maple sugar keeps by how dry it is, which this book doesn’t measure.',
  'below-density':
    'Below the least density of the place it is not maple syrup by that standard, and thin syrup moulds and ferments.',
  other: 'No rule here covers how it is made or how it keeps.',
};
