import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';
import { clausesOf, isNegated } from '../free-text/clauses.js';
import { newestAnswer, type QuestionAnswer } from './question-answers.js';

/**
 * Questions about packs too thin to sell (`thinPacks`, lot codes) that were poured into a pack whose own density passes:
 * pouring doesn’t thicken syrup, so somebody answers whether it was boiled again. Common practice, no source.
 */
export const judgeThinSyrup = (
  thinPacks: readonly string[],
  passes: boolean,
  answers: readonly QuestionAnswer[],
): Finding[] =>
  passes
    ? thinPacks.flatMap((lot) => {
        const found = `${lot}, whose syrup was too thin, was poured into it: was it poured in without being boiled to its density?`;
        const answer = newestAnswer(answers, found)?.answer;
        if (answer === 'no') return [];
        return [
          findingOf('thin-syrup-question', {
            limit: 'thin syrup boiled to its density before it is packed again',
            found,
            wayOut:
              answer === 'yes'
                ? 'Pour it back, boil it to its density and pack it again; or destroy it.'
                : 'Answer “no” if it was boiled to its density, and the density was read after that; “yes” holds it.',
          }),
        ];
      })
    : [];

/** Whether a text mentions that syrup was boiled: `boiled up to 217.2 F`; not `not boiled again`. Words from memory. */
export const mentionsBoiling = (text: string): boolean =>
  clausesOf(text).some((words) =>
    words.some(
      (word, at) =>
        /^(?:re)?boil(?:ed|ing)$|^(?:re)?bouillie?$/u.test(word) && !isNegated(words, at, skippedBeforeBoiled),
    ),
  );
const skippedBeforeBoiled: ReadonlySet<string> = new Set(['it', 'again', 'being']);
