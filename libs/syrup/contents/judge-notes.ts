import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';
import type { PlaceRules } from '../labelling/places.js';
import { findUnfitContainer, unfitContainerClauses } from '../free-text/find-unfit-container.js';
import { findNoteConcerns, type NoteSubject } from '../free-text/notes/find-note-concerns.js';
import type { Observation } from './judge-spoilage.js';
import { newestAnswer, type QuestionAnswer } from './question-answers.js';
import { confirmedAddition } from './judge-product.js';

/** The notes of a pack and of what it came from, with the answers to their questions. */
export interface NoteFacts {
  readonly observations: readonly Observation[];
  readonly answers: readonly QuestionAnswer[];
  readonly place: Pick<PlaceRules, 'authority'>;
  /** Bulk syrup of processing grade is sold to other makers: an off flavour doesn’t hold it. */
  readonly isProcessing: boolean;
  /** For another product neither temperature nor density is judged, and an ingredient is no contradiction. */
  readonly isOtherProduct?: boolean | undefined;
}

/** The question for each subject, worded so that “no” clears the hold. */
const questionText: Readonly<Record<NoteSubject, string>> = {
  added: 'was anything put into the syrup?',
  foreign: 'did anything get into the syrup that doesn’t belong there?',
  off: 'does the syrup smell or taste of anything but maple?',
  cold: 'were any jars colder than 180 °F (82 °C) when they were capped?',
  instrument: 'may a reading of this pack be wrong?',
  diluted: 'was it thinned after its density was read?',
  sources: 'did syrup go in that is not among the recorded sources?',
  seals: 'may a jar of this pack have failed to seal?',
};

/** When “no” is right, and what “yes” requires. */
const wayOuts: Readonly<Record<NoteSubject, string>> = {
  added: 'Answer “no” if this is maple syrup and nothing else; “yes” holds it as another product.',
  foreign:
    'Answer “no” if it didn’t touch the syrup, or if all of it was taken out and the syrup was filtered afterwards; “yes” holds it until an owner has asked the authority.',
  off: 'Taste it beside a retained sample. Answer “no” if it has no off flavour; “yes” holds it until it is tasted again or destroyed.',
  cold: 'Answer “no” if every jar was hot when it was capped; “yes” holds it until those jars are poured back, heated and filled again with new readings, or destroyed.',
  instrument:
    'Check the instrument and record the check. Answer “no” if its readings are right; “yes” holds it until a maker releases it with the reason.',
  diluted: 'Answer “no” if its density was read after that; “yes” holds it until the density is measured again.',
  sources:
    'Correct what it was packed from, if that syrup is missing. Answer “no” if each syrup in it is among its sources; “yes” holds it until a maker releases it with the reason.',
  seals:
    'Check the seal of every jar. Answer “no” if all are sealed; “yes” holds it until a corrective action records which jars failed and what became of them.',
};

/** Subjects about a pack’s own jars and readings. The others concern its syrup, so packs poured from it are asked too. */
const ofPackOnly: readonly NoteSubject[] = ['cold', 'instrument', 'diluted', 'seals'];

/** Subjects that matter for another product than syrup too. */
const keptForOtherProducts: readonly NoteSubject[] = ['foreign', 'sources', 'seals'];

/**
 * Findings for notes that contradict the rest of the record: a question, which holds the pack until somebody answers it.
 * “No” clears it; after “yes” the pack is judged as if the record contained it: another product, foreign matter, an off
 * flavour, a cold fill, a density not read. A later corrective action that measures or tastes again clears those that a
 * new reading can.
 */
export function judgeNotes({ observations, answers, place, isProcessing, isOtherProduct }: NoteFacts): Finding[] {
  return observations.flatMap((observation): Finding[] => {
    const { note, isOfJudgedLot, about, recordName, seq } = observation;
    if (!note) return [];
    return findNoteConcerns(note).flatMap(({ subject, words }): Finding[] => {
      if (!isOfJudgedLot && ofPackOnly.includes(subject)) return [];
      if (subject === 'off' && isProcessing) return [];
      if (isOtherProduct && !keptForOtherProducts.includes(subject)) return [];
      const found = `${recordName} says ${words.map((word) => `“${word}”`).join(', ')}: ${questionText[subject]}`;
      const answer = newestAnswer(answers, found, seq);
      if (answer?.answer === 'no') return [];
      if (answer?.answer !== 'yes') return [question(subject, found, about)];
      const isSettled = observations.some((each) => each.seq > answer.seq && each.measuredAgain?.includes(subject));
      return isSettled ? [] : [confirmed(subject, { found, about, note, words }, place)];
    });
  });
}

/**
 * Findings where the container, its preparation, or the note mentions another food or lids used before: a question, and
 * after “yes” a hold that a maker releases with the reason.
 */
export function judgeContainer({ observations, answers }: Pick<NoteFacts, 'observations' | 'answers'>): Finding[] {
  return observations.flatMap(
    ({ isOfJudgedLot, containerTexts = [], note = '', about, recordName, seq }): Finding[] => {
      const texts = isOfJudgedLot ? [...containerTexts, note] : [];
      const single = [...new Set(texts.flatMap(findUnfitContainer))];
      const words = single.length > 0 ? single : unfitContainerClauses(texts);
      if (words.length === 0) return [];
      const found = `${recordName} says ${words.map((word) => `“${word}”`).join(', ')}: did the container hold anything but syrup, or were its lids used before?`;
      const answer = newestAnswer(answers, found, seq)?.answer;
      if (answer === 'no') return [];
      const limit = 'a clean container made for food, and a lid not used before';
      if (answer === 'yes')
        return [
          findingOf('unfit-container', {
            limit,
            found: `${found} Answered yes`,
            wayOut:
              'Pour it back, heat it and pack it in other containers with new lids. Or a maker releases the lot with the reason why these are fit.',
            identity: { evidence: { about, says: words } },
          }),
        ];
      const wayOut =
        'Answer “no” if they were made for food, were clean, and had new lids; “yes” holds it until a maker releases it.';
      return [findingOf('container-question', { limit, found, about, wayOut })];
    },
  );
}

const question = (subject: NoteSubject, found: string, about: string): Finding =>
  findingOf('note-question', {
    limit: 'an answer, yes or no, to a note that contradicts the rest of the record',
    found,
    about,
    wayOut: wayOuts[subject],
  });

/** A question that was answered “yes”, with the note and its words that raised it. */
interface Confirmed {
  readonly found: string;
  readonly about: string;
  readonly note: string;
  readonly words: readonly string[];
}

/** The finding after somebody answered that the note is right. */
function confirmed(subject: NoteSubject, of: Confirmed, place: Pick<PlaceRules, 'authority'>): Finding {
  const found = `${of.found} Answered yes`;
  const evidence = { about: of.about, says: of.words };
  switch (subject) {
    case 'added':
      return confirmedAddition(of, place);
    case 'foreign':
      return findingOf('harm-reported', {
        limit: 'nothing but syrup in a jar',
        found,
        wayOut:
          'Ask your authority. An owner may release the lot and record which authority was asked, when, and its answer; otherwise destroy the jars.',
        identity: { evidence },
      });
    case 'off':
      return findingOf('off-flavour', { limit: 'no off flavour in a retail grade', found });
    case 'cold':
      return findingOf('fill-temperature', {
        limit: '180 °F or 82 °C in the jar when it is capped',
        found,
        wayOut:
          'Pour those jars back, heat the syrup to 190 °F or so, fill them again and record the corrective action with its jars and readings; or destroy them.',
      });
    case 'diluted':
      return findingOf('density-not-read', {
        limit: 'a density read after water was added',
        found,
        wayOut: 'Measure it again and record the reading in a corrective action.',
      });
    case 'seals':
      return findingOf('seals-failed', {
        limit: 'every jar that failed to seal taken off sale',
        found,
        wayOut:
          'Check the seal of every jar, and record a corrective action with the jars that failed and what became of them.',
      });
    case 'sources':
      return findingOf('sources-incomplete', {
        limit: 'every syrup in the pack among its sources',
        found,
        wayOut:
          'Correct what it was packed from, so that a recall of that syrup reaches these jars; syrup from somebody else is recorded as bought first. A maker then releases the lot with the reason; or destroy the jars.',
        identity: { evidence },
      });
    case 'instrument':
      return findingOf('instrument-in-doubt', {
        limit: 'readings by instruments that are known to be right',
        found,
        wayOut:
          'Check the instrument, or measure the same jars with another one, and record it. A maker then releases the lot with the reason; or pour the jars back and pack them again with new readings.',
        identity: { evidence },
      });
  }
}
