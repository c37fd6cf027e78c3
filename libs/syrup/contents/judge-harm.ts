import type { HarmElsewhereEvidence, HarmEvidence } from '../rules/finding-evidence.js';
import { findingOf } from '../rules/rules.js';
import { type Finding, identity } from '../rules/verdict.js';
import { findBrokenGlass, findHarm } from '../free-text/find-harm.js';
import type { Observation } from './judge-spoilage.js';
import { newestAnswer, type QuestionAnswer } from './question-answers.js';

/**
 * Findings for complaints that mention illness, a foreign object or a chemical: a question, which holds the lot until a
 * maker answers it; after “yes” a hold that an owner releases with the answer of an authority. Only complaints are
 * searched, since illness of the crew doesn’t concern the syrup. Glass that broke, in a pack's note that doesn't name
 * the jars, raises a question too.
 */
export function judgeHarm(observations: readonly Observation[], answers: readonly QuestionAnswer[]): Finding[] {
  return observations.flatMap(({ about, recordName, seq, texts, fillingNote }) => {
    const glassPhrases = findBrokenGlass(fillingNote ?? '');
    const words =
      glassPhrases.length > 0 ? glassPhrases : about.startsWith('complaint/') ? texts.flatMap(findHarm) : [];
    if (words.length === 0) return [];
    const subject =
      glassPhrases.length > 0
        ? 'is there glass in the jars beside it?'
        : 'illness, something in the syrup or a chemical';
    const says = [...new Set(words)];
    const found = `${recordName} says ${says.map((word) => `“${word}”`).join(', ')}: ${subject}`;
    const answer = newestAnswer(answers, found, seq)?.answer;
    if (answer === 'no') return [];
    if (glassPhrases.length > 0) return [glassQuestion(about, found)];
    return [answer === 'yes' ? reportedHarm(found, { about, says }) : harmQuestion(about, found)];
  });
}

/** Confirmed harm from another pack of the same boil or bought syrup: its cause may be in these jars too. */
export const judgeHarmElsewhere = (reports: readonly HarmElsewhereEvidence[]): Finding[] =>
  reports.map((report) =>
    findingOf('harm-in-same-syrup', {
      limit: 'no illness from a jar of the same syrup, and nothing but syrup in it',
      found: `complaint ${report.about.replace('complaint/', '')} about ${report.pack}, filled from the same syrup, says ${report.says.map((word) => `“${word}”`).join(', ')}, answered as harm`,
      about: report.about,
      wayOut: `Call your authority and ask about these jars too. An owner may release the lot and record which authority was asked, when, and its answer; otherwise recall it with ${report.pack} or destroy the jars.`,
      identity: { evidence: report },
    }),
  );

/** The complaints among these that somebody answered as harm, with the words that raised the question. */
export const harmConfirmed = (
  observations: readonly Observation[],
  answers: readonly QuestionAnswer[],
): HarmEvidence[] =>
  judgeHarm(observations, answers).flatMap(({ rule, [identity]: accepts }) =>
    rule === 'harm-reported' && accepts ? [accepts.evidence as HarmEvidence] : [],
  );

const harmQuestion = (about: string, found: string): Finding =>
  findingOf('harm-question', {
    limit: 'an answer, yes or no, to a record that mentions illness, something in the syrup or a chemical',
    found,
    about,
    wayOut:
      'Call the person who reported it, keep the jar, and answer: “no” once you know that this syrup is not the cause. If somebody is ill, call your authority before you answer.',
  });

const glassQuestion = (about: string, found: string): Finding =>
  findingOf('harm-question', {
    limit: 'glass that broke at filling recorded with the jars beside it, or the answer that no jar was near',
    found,
    about,
    wayOut:
      'Did it break at a filled or open jar? Answer “no” if it was empty and away from them. Otherwise record at which jar it broke: the jars beside it are then held.',
  });

const reportedHarm = (found: string, evidence: HarmEvidence): Finding =>
  findingOf('harm-reported', {
    limit: 'no illness from a jar, and nothing but syrup in it',
    found,
    wayOut:
      'Call your authority and ask whether to recall. An owner may release the lot and record which authority was asked, when, and its answer; otherwise recall it or destroy the jars.',
    identity: { evidence },
  });
