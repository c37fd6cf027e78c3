import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';
import { clausesOf, isDenied } from './clauses.js';
import type { SpoilageAnswer } from './judge-spoilage.js';

/**
 * Packs that were too thin and were poured into this one, whose own density passes: pouring thickens nothing, so whether
 * it was boiled again is asked. Common practice, no source.
 */
export const judgeThinSyrup = (
  thinPacks: readonly string[],
  passes: boolean,
  answers: readonly SpoilageAnswer[],
): Finding[] =>
  passes
    ? thinPacks.flatMap((lot) => {
        const found = `${lot}, whose syrup was too thin, was poured into it: was it poured in without being boiled to its density?`;
        const answer = answers.findLast(({ question }) => question === found)?.answer;
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

/** Whether a text says that the syrup was boiled: `boiled up to 217.2 F`, not `not boiled again`. Words from memory. */
export const saysBoiled = (text: string): boolean =>
  clausesOf(text).some((words) =>
    words.some((word, at) => /^(?:re)?boil(?:ed|ing)$|^(?:re)?bouillie?$/u.test(word) && !isDenied(words, at, noWords)),
  );
const noWords: ReadonlySet<string> = new Set(['it', 'again', 'being']);
