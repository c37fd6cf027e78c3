import type { Problem } from '#libs/actions/record/problem.js';

/** A refusal found where nothing can be answered, such as in a pipe; the filter answers it like any other. */
export class Refused extends Error {
  constructor(readonly problem: Problem) {
    super(problem.kind);
  }
}
