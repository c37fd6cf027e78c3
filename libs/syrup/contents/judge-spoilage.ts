import { newestAnswer, type QuestionAnswer } from './question-answers.js';
import type { HarmElsewhereEvidence } from '../rules/finding-evidence.js';
import { findingOf } from '../rules/rules.js';
import { findUnclearText } from '../free-text/harmless-text.js';
import { type SpoilageSign, findSpoilage } from '../free-text/find-spoilage.js';
import type { NoteSubject } from '../free-text/notes/find-note-concerns.js';
import type { Finding } from '../rules/verdict.js';

/** In what condition a jar was returned. In a jar kept open and warm, mould may grow that was not there before. */
export const arrivalAnswers = ['sealed', 'opened-cold', 'opened-warm'] as const;
export const mouldAnswers = ['no', 'yes', 'not-known'] as const;

/** Signs of gas or fermentation seen in a jar. Loose seals are judged elsewhere (judge-complaint.ts). */
export type SeenSign = 'bulging' | 'spurting' | 'fermented-or-sour';
export const seenText: Readonly<Record<SeenSign, string>> = {
  bulging: 'the lid or the jar bulges',
  spurting: 'it spurted when it was opened',
  'fermented-or-sour': 'smells fermented or sour',
};

/** An inspected jar, or texts about the syrup: from a complaint, a pack, a corrective action or a boil. */
export interface Observation {
  /** The record that contains it: `complaint/C1`. */
  readonly about: string;
  /** How sentences name the record: `complaint C1`. */
  readonly recordName: string;
  /** Its sequence number in the log: answers and inspections count only for entries before them. */
  readonly seq: number;
  /** Whether it was mouldy: `yes`, `no`, `not-known`; blank or absent where nobody answered. */
  readonly mould?: string | undefined;
  readonly came?: string | undefined;
  /** The jar, where it is known: two reports of one jar count once. */
  readonly jar?: string | undefined;
  /** Other signs that were reported as seen. */
  readonly seen?: readonly SeenSign[] | undefined;
  /** Signs that an inspection answered: a text about them raises no question. */
  readonly answeredSigns?: readonly SpoilageSign[] | undefined;
  readonly texts: readonly string[];
  /** What a customer wrote about the jar: it raises a question unless it is clearly harmless. */
  readonly jarRemark?: string | undefined;
  /** A pack's note, where the pack doesn’t record at which jars glass broke. */
  readonly fillingNote?: string | undefined;
  /** The note of a pack or boil, searched for contradictions with the rest of the record. */
  readonly note?: string | undefined;
  /** A pack’s container as typed, and how it was prepared. */
  readonly containerTexts?: readonly string[] | undefined;
  /** It belongs to the lot that is judged, not to one that its syrup came from. */
  readonly isOfJudgedLot?: boolean | undefined;
  /** Subjects of a note that a corrective action on the lot measured or did again. */
  readonly measuredAgain?: readonly NoteSubject[] | undefined;
}

/** Jars of the lot that were inspected and counted. */
export interface JarInspection {
  readonly seq: number;
  readonly mouldy: number;
  readonly sound: number;
}

export interface SpoilageFacts {
  readonly observations: readonly Observation[];
  readonly inspections: readonly JarInspection[];
  /** Answers to questions about the lot and its sources, oldest first. */
  readonly answers: readonly QuestionAnswer[];
  /** How many jars the lot has; absent or null where that isn't recorded. */
  readonly jars?: number | null | undefined;
  /** Jars of the lot that were destroyed. */
  readonly destroyed: number;
  /** Other packs of the same boils with mouldy jars that were returned sealed. */
  readonly otherPacks: readonly { readonly lot: string; readonly mouldy: number; readonly seq: number }[];
  /** Other packs of the same syrup from which somebody was harmed. */
  readonly harmElsewhere?: readonly HarmElsewhereEvidence[] | undefined;
}

/**
 * Findings for signs of spoilage, which hold until other jars are inspected, and for texts that mention spoilage, each a
 * question that holds until somebody answers it.
 */
export function judgeSpoilage(facts: SpoilageFacts): Finding[] {
  const signs: Sign[] = [];
  const other: Finding[] = [];
  for (const each of facts.observations) {
    const { text: questionText, says } = questionOf(each);
    const answer = questionText && newestAnswer(facts.answers, questionText, each.seq)?.answer;
    const seen =
      each.mould === 'yes' || (each.seen ?? []).length > 0 || (questionText !== undefined && answer === 'yes');
    if (each.came === 'opened-warm')
      other.push(...(seen || questionText !== undefined ? [mouldAfterOpening(each)] : []));
    else if (seen) signs.push({ ...each, says: each.mould === 'yes' || each.seen?.length ? undefined : says });
    else if (questionText !== undefined && answer !== 'no') other.push(question(each, questionText));
  }
  return [...spoilageFindings(facts, signs), ...other];
}

/** An observation of spoilage: seen, or mentioned in its text (`says`) and confirmed by an answer. */
interface Sign extends Observation {
  readonly says?: readonly string[] | undefined;
}

/**
 * The question that an observation raises, and the words of its text that raise it (`says`); neither where there is none.
 * Answers are matched by this text, so it is the same as long as the record is unchanged, and must not be reworded.
 */
function questionOf({ recordName, mould, answeredSigns = [], texts, jarRemark = '' }: Observation): {
  readonly text?: string;
  readonly says?: readonly string[];
} {
  if (mould === 'not-known') return { text: `${recordName}: whether it is mould is not known` };
  const answered: readonly SpoilageSign[] =
    mould === 'no' || mould === 'yes' ? [...answeredSigns, 'mould'] : answeredSigns;
  const text = texts.flatMap(findSpoilage).filter(({ sign }) => !answered.includes(sign));
  if (text.length > 0) {
    const says = [...new Set(text.map(({ word }) => word))];
    return { text: `${recordName} says ${says.map((word) => `“${word}”`).join(', ')}`, says };
  }
  const unclear = mould ? undefined : findUnclearText(jarRemark);
  if (!unclear) return {};
  return { text: `${recordName} says “${shortened(unclear)}”: whether it has spoiled is not known`, says: [unclear] };
}

const shortened = (text: string): string => (text.length > 120 ? `${text.slice(0, 119)}…` : text);

function spoilageFindings(facts: SpoilageFacts, signs: readonly Sign[]): Finding[] {
  const inOtherPacks = facts.otherPacks.reduce((sum, { mouldy }) => sum + mouldy, 0);
  if (signs.length === 0 && inOtherPacks < 2) return [];
  const what =
    signs.length > 0
      ? `mould or another sign of spoilage: ${signs.map(formatSign).join('; ')}`
      : `${inOtherPacks} mouldy jars that came sealed, of the same boil: ${facts.otherPacks.map(({ lot }) => lot).join(', ')}`;
  const newest = Math.max(...(signs.length > 0 ? signs : facts.otherPacks).map(({ seq }) => seq));
  if (!facts.inspections.some(({ seq }) => seq >= newest))
    return [
      findingOf('mould', {
        limit: 'no mould, gas or fermentation; if there was any, other jars inspected and counted',
        found: what,
        wayOut:
          'Inspect other jars of the lot, against the light and at the lid, and record how many were mouldy and how many sound (a corrective action, about 20 min). Mouldy syrup is destroyed, never released.',
      }),
    ];
  const tooMany = inspectedTooMany(facts, signs, what);
  if (tooMany) return [tooMany];
  // All inspections count together: later sound jars don’t undo earlier mouldy ones.
  const mouldy = facts.inspections.reduce((sum, each) => sum + each.mouldy, 0);
  const sound = facts.inspections.reduce((sum, each) => sum + each.sound, 0);
  const inspectionText = `${mouldy + sound} other jars inspected: ${mouldy} mouldy, ${sound} sound`;
  if (facts.destroyed < mouldy)
    return [
      findingOf('mould', {
        limit: 'every mouldy jar destroyed',
        found: `${what}; ${inspectionText}; ${facts.destroyed} destroyed`,
        wayOut: `Destroy the ${mouldy} mouldy jars and record them as sent out, kind destroyed. Mouldy syrup is destroyed, never released. If one jar is in two inspections, correct one of them.`,
      }),
    ];
  return [
    findingOf('mould-looked-at', {
      limit: 'a release that records the cause',
      found: `${what}; ${inspectionText}`,
      wayOut: 'Release the sound jars and record the cause; if you don’t know it, destroy them.',
      identity: {
        evidence: {
          signs: signs.map(({ about, mould, seen, came, says }) => ({ about, mould, seen, came, says })),
          ...(inOtherPacks < 2 ? {} : { otherPacks: facts.otherPacks.map(({ lot, mouldy }) => ({ lot, mouldy })) }),
          mouldy,
          sound,
        },
      },
    }),
  ];
}

/** A hold where an inspection counted more jars than the lot has beside those that were reported; undefined if none did. */
function inspectedTooMany(facts: SpoilageFacts, signs: readonly Sign[], what: string): Finding | undefined {
  const { jars } = facts;
  if (jars === undefined || jars === null) return undefined;
  const most = jars - jarsReported(facts, signs);
  const tooMany = facts.inspections.find(({ mouldy, sound }) => mouldy + sound > most);
  if (!tooMany) return undefined;
  return findingOf('mould', {
    limit: `at most ${most} other jars inspected, of ${jars}`,
    found: `${what}; ${tooMany.mouldy + tooMany.sound} other jars inspected, more than there can be`,
    wayOut:
      'Correct the number of jars that were inspected; if they were not inspected, do it and record how many were mouldy and how many sound.',
  });
}

/** The jars of the lot itself that were reported with a sign: they aren't among the others that were inspected. */
const jarsReported = ({ jars }: SpoilageFacts, signs: readonly Sign[]): number =>
  Math.min(
    jars ?? 0,
    new Set(
      signs
        .filter(({ about, isOfJudgedLot }) => isOfJudgedLot && about.startsWith('complaint/'))
        .map(({ jar, about }) => jar || about),
    ).size,
  );

const formatSign = ({ recordName, mould, came, seen = [] }: Observation): string =>
  [
    recordName,
    ...(mould === 'yes' ? ['mould'] : []),
    ...seen.map((sign) => seenText[sign]),
    ...(came ? [`came ${came.replace('-', ' and kept ')}`] : []),
  ].join(', ');

function question({ about }: Observation, questionText: string): Finding {
  return findingOf('spoilage-question', {
    limit: 'an answer, yes or no, whether it is mould, gas or fermentation',
    found: questionText,
    about,
    wayOut:
      'Inspect the jar and answer. “No” clears it without a release; “yes” holds the lot until other jars are inspected.',
  });
}

function mouldAfterOpening({ recordName }: Observation): Finding {
  return findingOf('mould-opened-warm', {
    limit: 'an opened jar kept cold',
    found: `${recordName}: the jar was opened and kept warm, and mould grows in opened syrup that is not kept cold`,
  });
}
