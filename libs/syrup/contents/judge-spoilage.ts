import { findingOf } from '../rules/rules.js';
import { unclearIn } from './harmless-text.js';
import { type SpoilageSign, spoilageIn } from './spoilage-words.js';
import type { NoteSubject } from './note-signs.js';
import type { Finding } from '../rules/verdict.js';

/** How a jar was returned; a jar that stood open and warm grows its own mould. */
export const arrivalAnswers = ['sealed', 'opened-cold', 'opened-warm'] as const;
export const mouldAnswers = ['no', 'yes', 'not-known'] as const;

/** What a jar shows of gas, and its smell. A loose or broken seal lets air in: the question about lids covers that. */
export type SeenSign = 'bulging' | 'spurting' | 'fermented-or-sour';
export const seenText: Readonly<Record<SeenSign, string>> = {
  bulging: 'the lid or the jar bulges',
  spurting: 'it spurted when it was opened',
  'fermented-or-sour': 'smells fermented or sour',
};

/** An inspected jar, or a text about the syrup: a complaint, a pack's appearance, an action, a boil's note. */
export interface Observation {
  /** The record that contains it: `complaint/C1`. */
  readonly about: string;
  /** Its name in a sentence: `complaint C1`. */
  readonly where: string;
  /** Its sequence number in the log: an inspection counts for entries before it. */
  readonly seq: number;
  /** As answered: yes, no, not known; blank or absent where there is no answer. */
  readonly mould?: string | undefined;
  readonly came?: string | undefined;
  /** The jar, where it is known: two reports of one jar count once. */
  readonly jar?: string | undefined;
  /** Other signs that were reported as seen. */
  readonly seen?: readonly SeenSign[] | undefined;
  /** Signs that an inspection answered, so that a text about them raises no question. */
  readonly answeredFor?: readonly SpoilageSign[] | undefined;
  readonly texts: readonly string[];
  /** The text about a jar, in a complaint or with its return: raises a question unless it is plainly harmless. */
  readonly said?: string | undefined;
  /** A pack's note, where it doesn't name the jars near which glass broke. */
  readonly atFilling?: string | undefined;
  /** The note of a pack or boil, searched for what contradicts the rest of the record. */
  readonly note?: string | undefined;
  /** A pack’s container as typed, and how it was prepared. */
  readonly containerTexts?: readonly string[] | undefined;
  /** Of the lot that is judged, not of one that it came from. */
  readonly isOwn?: boolean | undefined;
  /** What a corrective action on the lot measured or did again. */
  readonly repeats?: readonly NoteSubject[] | undefined;
}

/** Jars of the lot that were inspected and counted. */
export interface JarInspection {
  readonly seq: number;
  readonly mouldy: number;
  readonly sound: number;
}

/** Counts for entries before it; `question` is the text of the finding. */
export interface SpoilageAnswer {
  readonly question: string;
  readonly answer: string;
  readonly seq: number;
}

export interface SpoilageFacts {
  readonly lookedAt: readonly Observation[];
  readonly inspections: readonly JarInspection[];
  /** Answers to questions, oldest first. */
  readonly answers: readonly SpoilageAnswer[];
  /** Jars of the lot that were destroyed. */
  readonly destroyed: number;
  /** Other packs of the same boils with mouldy jars that were returned sealed. */
  readonly otherPacks: readonly { readonly lot: string; readonly mouldy: number; readonly seq: number }[];
}

/**
 * Signs of spoilage hold until other jars are inspected; a text about spoilage raises a question and holds until it is
 * answered.
 */
export function judgeSpoilage(facts: SpoilageFacts): Finding[] {
  const signs: Sign[] = [];
  const other: Finding[] = [];
  for (const each of facts.lookedAt) {
    const { text: questionText, says } = questionOf(each);
    const answer = facts.answers.findLast(({ question, seq }) => question === questionText && seq > each.seq)?.answer;
    const seen =
      each.mould === 'yes' || (each.seen ?? []).length > 0 || (questionText !== undefined && answer === 'yes');
    if (each.came === 'opened-warm') other.push(...(seen || questionText !== undefined ? [stoodOpen(each)] : []));
    else if (seen) signs.push({ ...each, says: each.mould === 'yes' || each.seen?.length ? undefined : says });
    else if (questionText !== undefined && answer !== 'no') other.push(question(each, questionText));
  }
  return [...spoiled(facts, signs), ...other];
}

/** An observation that shows spoilage by itself, or by its text (`says`) where a person answered that it does. */
interface Sign extends Observation {
  readonly says?: readonly string[] | undefined;
}

/**
 * The question that it raises, with the same text as long as the record is unchanged, and the words that raise it;
 * neither where there is none.
 */
function questionOf({ where, mould, answeredFor = [], texts, said = '' }: Observation): {
  readonly text?: string;
  readonly says?: readonly string[];
} {
  if (mould === 'not-known') return { text: `${where}: whether it is mould is not known` };
  const answered: readonly SpoilageSign[] = mould === 'no' || mould === 'yes' ? [...answeredFor, 'mould'] : answeredFor;
  const text = texts.flatMap(spoilageIn).filter(({ sign }) => !answered.includes(sign));
  if (text.length > 0) {
    const says = [...new Set(text.map(({ word }) => word))];
    return { text: `${where} says ${says.map((word) => `“${word}”`).join(', ')}`, says };
  }
  const unclear = mould ? undefined : unclearIn(said);
  if (!unclear) return {};
  return { text: `${where} says “${shortened(unclear)}”: whether it has spoiled is not known`, says: [unclear] };
}

const shortened = (text: string): string => (text.length > 120 ? `${text.slice(0, 119)}…` : text);

function spoiled(facts: SpoilageFacts, signs: readonly Sign[]): Finding[] {
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
  // All inspections together: a later one of sound jars doesn't undo that an earlier one found mouldy jars.
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

const formatSign = ({ where, mould, came, seen = [] }: Observation): string =>
  [
    where,
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

function stoodOpen({ where }: Observation): Finding {
  return findingOf('mould-opened-warm', {
    limit: 'an opened jar kept cold',
    found: `${where}: the jar was opened and kept warm, and mould grows in opened syrup that is not kept cold`,
  });
}
