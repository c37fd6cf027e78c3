import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';
import type { PlaceRules } from '../labelling/places.js';
import { unfitContainerIn } from './container-signs.js';
import { noteSigns, type NoteSubject } from './note-signs.js';
import type { Observation, SpoilageAnswer } from './judge-spoilage.js';
import { productConfirmed } from './judge-product.js';

/** The notes of a pack and of what it came from, with the answers to their questions. */
export interface NoteFacts {
  readonly lookedAt: readonly Observation[];
  readonly answers: readonly SpoilageAnswer[];
  readonly place: Pick<PlaceRules, 'authority'>;
  /** Bulk syrup of processing grade is for other makers: its flavour holds nothing. */
  readonly isProcessing: boolean;
  /** Of another product neither temperature nor density is judged, and an ingredient is no contradiction. */
  readonly isOtherProduct?: boolean | undefined;
}

/** What a question asks, so that “no” is the answer that opens. */
const asks: Readonly<Record<NoteSubject, string>> = {
  added: 'was anything put into the syrup?',
  foreign: 'did anything get into the syrup that doesn’t belong there?',
  off: 'does the syrup smell or taste of anything but maple?',
  cold: 'were any jars colder than 180 °F (82 °C) when they were capped?',
  instrument: 'may a reading of this pack be wrong?',
  diluted: 'was it thinned after its density was read?',
};

/** What “yes” requires, and when “no” is right. */
const wayOuts: Readonly<Record<NoteSubject, string>> = {
  added: 'Answer “no” if this is maple syrup and nothing else; “yes” holds it as another product.',
  foreign:
    'Answer “no” if it didn’t touch the syrup, or if all of it was taken out and the syrup was filtered afterwards; “yes” holds it until an owner has asked the authority.',
  off: 'Taste it beside a retained sample. Answer “no” if it has no off flavour; “yes” holds it until it is tasted again or destroyed.',
  cold: 'Answer “no” if every jar was hot when it was capped; “yes” holds it until those jars are poured back, heated and filled again with new readings, or destroyed.',
  instrument:
    'Check the instrument and record the check. Answer “no” if its readings are right; “yes” holds it until a maker releases it with the reason.',
  diluted: 'Answer “no” if its density was read after that; “yes” holds it until the density is measured again.',
};

/** Subjects that concern the jars and readings of a pack itself; the others stay in its syrup. */
const ofPackOnly: readonly NoteSubject[] = ['cold', 'instrument', 'diluted'];

/**
 * A note that contradicts the rest of the record holds the pack until somebody answers whether it is so. “No” opens it;
 * after “yes” it is judged as if the record said so: another product, foreign matter, an off flavour, a cold fill, a
 * density not read. A corrective action that measures or tastes again settles it where a new reading can.
 */
export function judgeNotes({ lookedAt, answers, place, isProcessing, isOtherProduct }: NoteFacts): Finding[] {
  return lookedAt.flatMap((observation): Finding[] => {
    const { note, isOwn, about, where, seq } = observation;
    if (!note) return [];
    return noteSigns(note).flatMap(({ subject, words }): Finding[] => {
      if (!isOwn && ofPackOnly.includes(subject)) return [];
      if (subject === 'off' && isProcessing) return [];
      if (isOtherProduct && subject !== 'foreign') return [];
      const found = `${where} says ${words.map((word) => `“${word}”`).join(', ')}: ${asks[subject]}`;
      const answer = answers.findLast((each) => each.question === found && each.seq > seq);
      if (answer?.answer === 'no') return [];
      if (answer?.answer !== 'yes') return [question(subject, found, about)];
      const isSettled = lookedAt.some((each) => each.seq > answer.seq && each.repeats?.includes(subject));
      return isSettled ? [] : [confirmed(subject, { found, about, note, words }, place)];
    });
  });
}

/**
 * A question where the container, how it was prepared, or the note says that it held another food or that its lids were
 * used before; after “yes” a maker releases the lot with the reason.
 */
export function judgeContainer({ lookedAt, answers }: Pick<NoteFacts, 'lookedAt' | 'answers'>): Finding[] {
  return lookedAt.flatMap(({ isOwn, containerTexts = [], note = '', about, where, seq }): Finding[] => {
    const words = isOwn ? [...new Set([...containerTexts, note].flatMap(unfitContainerIn))] : [];
    if (words.length === 0) return [];
    const found = `${where} says ${words.map((word) => `“${word}”`).join(', ')}: did the container hold anything but syrup, or were its lids used before?`;
    const answer = answers.findLast((each) => each.question === found && each.seq > seq)?.answer;
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
  });
}

const question = (subject: NoteSubject, found: string, about: string): Finding =>
  findingOf('note-question', {
    limit: 'an answer, yes or no, to a note that contradicts the rest of the record',
    found,
    about,
    wayOut: wayOuts[subject],
  });

interface Confirmed {
  readonly found: string;
  readonly about: string;
  readonly note: string;
  readonly words: readonly string[];
}

/** The finding once somebody answered that the note is right. */
function confirmed(subject: NoteSubject, of: Confirmed, place: Pick<PlaceRules, 'authority'>): Finding {
  const found = `${of.found} Answered yes`;
  const evidence = { about: of.about, says: of.words };
  switch (subject) {
    case 'added':
      return productConfirmed(of, place);
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
