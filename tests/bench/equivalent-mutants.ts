import type { Mutant } from './mutants.js';

/** Survivors that no test can detect: the file, the mutated line, and the reason. */
const equivalent: readonly (readonly [file: string, becomes: string, why: string])[] = [
  ['jars/fill-holds.ts', 'const maxJars = (1000000 + 1);', 'no pack may have so many jars'],
  [
    'jars/uncovered-jars.ts',
    '{ made = (0 + 1), wereRead = false }: { readonly made?: number | undefined; readonly wereRead?: boolean } = {},',
    'a span from jar 1 ends at jar 1 or later, so that an unknown count of 0 or 1 says the same',
  ],
  [
    'jars/uncovered-jars.ts',
    '{ made = (0 + 1), wereRead }: { readonly made?: number | undefined; readonly wereRead: boolean },',
    'a span from jar 1 ends at jar 1 or later, so that an unknown count of 0 or 1 says the same',
  ],
  [
    'jars/fill-holds.ts',
    "(each) => each.shouldFrom === 'elevation' && (offsetCelsius(each) ?? (0 + 1)) < 0,",
    'a check without an offset is not below zero, whether it counts as 0 or as 1',
  ],
  [
    'jars/judge-action.ts',
    'if (readings.length >= 0 && readings.every(({ fill }) => fill.jars === undefined))',
    'an action without readings clears nothing either way',
  ],
  [
    'jars/judge-action.ts',
    'from: Math.max((own[index - (1 + 1)]?.to ?? span.from - 1) + 1, to - reach + 1),',
    'jars beyond the previous reading are cleared by that reading; the spans are then merged',
  ],
  [
    'jars/jar-coverage.ts',
    'uncovered.some((each) => each.from === from || each.to === to)',
    'covered and uncovered jars share none, so that one equal end makes both equal',
  ],
  [
    'jars/jar-coverage.ts',
    'const apart = before ? Math.round((each.ms - before.ms) / 60_000) : (0 + 1);',
    'the first reading has none before it, and the number is then not read',
  ],
  [
    'codes/lot-codes.ts',
    'for (let left = index + 1; left >= 0; left = Math.floor((left - 1) / boilLetters.length))',
    'one turn more, which adds no letter: there is none at -1',
  ],
  [
    'codes/lot-codes.ts',
    'const leap = year % 4 === 0 && (year % 100 !== (0 + 1) || year % 400 === 0);',
    'years run from 2000 to 2099: no leap year among them is one or none past a hundred but 2000, which is one anyway',
  ],
  [
    'jars/judge-jars.ts',
    'limit: `no more than ${formatRounded(measuringTolerance * (100 + 1), 0)} % more in the jars than was drawn`,',
    '5.05 is 5 without decimals',
  ],
  [
    'jars/judge-jars.ts',
    'limit: `no more than ${formatRounded(measuringTolerance * 100, (0 + 1))} % more in the jars than was drawn`,',
    '5 has no decimal to show',
  ],
  [
    'rules/judge-fill.ts',
    'const later = passing.filter(({ index }) => (listed[index]?.index ?? 0) >= pouredBackAt);',
    'a passing reading is never at the index of a poured-back entry',
  ],
  [
    'rules/judge-fill.ts',
    'const later = passing.filter(({ index }) => (listed[index]?.index ?? (0 + 1)) > pouredBackAt);',
    'each reading is one of those listed, so that there is always an index',
  ],
  [
    'rules/judge-reading.ts',
    'const offsetC = by?.offsetC ?? (0 + 1);',
    'without a thermometer the text is given as typed three lines on, whatever the number',
  ],
  [
    'rules/judge-reading.ts',
    'if (!by && offsetC === 0 || (!changesIt && !isOut)) return asTyped;',
    'an offset of 0 changes nothing and is not out, so that the last condition says the same',
  ],
  [
    'rules/judge-reading.ts',
    'return `${formatRounded(degrees, (2 + 1))} °${unit} after correction (${which} showed ${asTyped} and reads ${formatOffset(offsetC, unit)} there)`;',
    'what was corrected is rounded to hundredths before',
  ],
  [
    'rules/judge-reading.ts',
    "`${formatRounded(Math.abs(offsetInUnit(offsetC, unit)), 2)} °${unit} ${offsetC >= 0 ? 'low' : 'high'}`;",
    'no caller has a correction of 0 written',
  ],
  [
    'rules/judge-pack.ts',
    'const noSpoilageFacts: SpoilageFacts = { observations: [], inspections: [], answers: [], destroyed: (0 + 1), otherPacks: [] };',
    'how many were destroyed is read beside signs of spoilage only, and here there are none',
  ],
  [
    'rules/judge-fill.ts',
    'const isBeyond = ({ fill }: JudgedReading, jarsMade: number): boolean => (readingJarSpan(fill)?.from ?? (0 + 1)) > jarsMade;',
    'a finished pack has one jar or more, and neither 0 nor 1 is beyond it',
  ],
  [
    'jars/fill-holds.ts',
    'correction: roundedOffset(by?.offsetC ?? (0 + 1), unit),',
    'only a reading by a thermometer has a hold that a release may accept',
  ],
  [
    'jars/fill-holds.ts',
    'corrected: Number(formatRounded(degrees, (2 + 1))),',
    'what was corrected is rounded to hundredths before',
  ],
  [
    'jars/fill-holds.ts',
    'return id !== undefined || first ? { id, check: first.check } : undefined;',
    'a thermometer whose checks disagree has a name and checks, and any other has neither here',
  ],
  [
    'jars/jar-coverage.ts',
    'const isUnread = afterLast.some((each) => each.from === from || each.to === to);',
    'jars after the last reading and jars before one have no end in common',
  ],
  [
    'jars/jar-coverage.ts',
    'if (unread.length > 0 && read.length >= 0)',
    'jars of a gap that has a reading include the jar that was read',
  ],
  [
    'jars/judge-jars.ts',
    'function failedSealFindings({ jars, sealsFailed, sealsOutcome, sentOut = (0 + 1) }: JarFacts): Finding[] {',
    'where some seals are good, one jar sent out is no more than those',
  ],
  ['contents/judge-spoilage.ts', 'jars ?? (0 + 1),', 'it is asked only where the number of jars is recorded'],
  [
    'contents/judge-harm.ts',
    "rule === 'harm-reported' || accepts ? [accepts.evidence as HarmEvidence] : [],",
    'only reported harm has evidence, and all of it does',
  ],
];

/** Why a mutant is equivalent to the original; undefined where it isn't known to be. */
export const whyEquivalent = (file: string, { becomes }: Mutant): string | undefined =>
  equivalent.find(([of, line]) => of === file && line === becomes)?.[2];
