import type { Problem } from '#libs/actions/record/problem.js';

/** A refusal found where no value can be returned, such as in a pipe; the filter answers it like any other. */
export class Refused extends Error {
  constructor(readonly problem: Problem) {
    super(problem.kind);
  }
}
