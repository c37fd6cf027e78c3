import { type Problem, sentencesOf } from '#libs/actions/record/problem.js';
import { ProblemPage } from '#pages/problems/problem.js';
import { withBoxNames } from '../text/box-names.js';
import type { ProblemDetails } from './problem-details.js';
import { type HtmlPage, htmlPage } from './responses.js';

/**
 * The page for a refused request: the problem's own sentences, else the HTTP title and detail. `method` is that of the
 * request: a page that was only opened had nothing to save.
 */
export const problemPage = (details: ProblemDetails, method: string, problem?: Problem): HtmlPage =>
  htmlPage(
    ProblemPage,
    {
      title: details.title,
      sentences: problem ? sentencesOf(problem).map(withBoxNames) : [pageTexts[details.status] ?? details.detail],
      status: details.status,
      wasSent: method !== 'GET' && method !== 'HEAD',
    },
    details.status,
  );

/** The details of API problems that a page words differently. */
const pageTexts: Readonly<Record<number, string>> = {
  405: 'This address can’t be opened or sent to in this way. Go back and use the links and buttons of that page.',
};
