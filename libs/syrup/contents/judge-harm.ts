import type { HarmEvidence } from '../rules/finding-evidence.js';
import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';
import { brokenIn, harmIn } from './harm-words.js';
import type { Observation, SpoilageAnswer } from './judge-spoilage.js';

/**
 * A complaint that mentions illness, a foreign object or a chemical holds the lot until a maker answers the question;
 * where it is true, until an owner names the authority asked. Only buyers' texts are searched: somebody ill at the pan
 * says nothing about the syrup. Glass that broke, in a pack's note that doesn't name the jars, raises a question too.
 */
export function judgeHarm(lookedAt: readonly Observation[], answers: readonly SpoilageAnswer[]): Finding[] {
  return lookedAt.flatMap(({ about, where, seq, texts, atFilling }) => {
    const broke = brokenIn(atFilling ?? '');
    const words = broke.length > 0 ? broke : about.startsWith('complaint/') ? texts.flatMap(harmIn) : [];
    if (words.length === 0) return [];
    const what =
      broke.length > 0 ? 'is there glass in the jars beside it?' : 'illness, something in the syrup or a chemical';
    const says = [...new Set(words)];
    const found = `${where} says ${says.map((word) => `“${word}”`).join(', ')}: ${what}`;
    const answer = answers.findLast((each) => each.question === found && each.seq > seq)?.answer;
    if (answer === 'no') return [];
    if (broke.length > 0) return [brokeAt(about, found)];
    return [answer === 'yes' ? reported(found, { about, says }) : questioned(about, found)];
  });
}

const questioned = (about: string, found: string): Finding =>
  findingOf('harm-question', {
    limit: 'an answer, yes or no, to a record that mentions illness, something in the syrup or a chemical',
    found,
    about,
    wayOut:
      'Call the person who reported it, keep the jar, and answer: “no” once you know that this syrup is not the cause. If somebody is ill, call your authority before you answer.',
  });

const brokeAt = (about: string, found: string): Finding =>
  findingOf('harm-question', {
    limit: 'glass that broke at filling recorded with the jars beside it, or the answer that no jar was near',
    found,
    about,
    wayOut:
      'Did it break at a filled or open jar? Answer “no” if it was empty and away from them. Otherwise record at which jar it broke: the jars beside it are then held.',
  });

const reported = (found: string, evidence: HarmEvidence): Finding =>
  findingOf('harm-reported', {
    limit: 'no illness from a jar, and nothing but syrup in it',
    found,
    wayOut:
      'Call your authority and ask whether to recall. An owner may release the lot and record which authority was asked, when, and its answer; otherwise recall it or destroy the jars.',
    identity: { evidence },
  });
