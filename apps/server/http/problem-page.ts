import { type Problem, sentencesOf } from '#libs/actions/record/problem.js';
import { ProblemPage } from '#pages/problems/problem.js';
import { withBoxNames } from '../text/box-names.js';
import type { ProblemDetails } from './problem-details.js';
import { type HtmlPage, htmlPage } from './responses.js';

/** The page for a refused request: the problem's own sentences, else the HTTP title and detail. */
export const problemPage = (details: ProblemDetails, problem?: Problem): HtmlPage =>
  htmlPage(
    ProblemPage,
    {
      title: details.title,
      sentences: problem ? sentencesOf(problem).map(withBoxNames) : [details.detail],
      status: details.status,
    },
    details.status,
  );
