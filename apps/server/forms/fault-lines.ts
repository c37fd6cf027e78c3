import { type Problem, sentencesOf } from '#libs/actions/record/problem.js';
import type { FaultLine } from '#pages/parts/faults.js';

/** What was wrong, one sentence per fault, with the field where the problem names one. */
export const faultLines = (problem: Problem | undefined): readonly FaultLine[] => {
  if (!problem) return [];
  if (!('faults' in problem) || !problem.faults) return sentencesOf(problem).map((sentence) => ({ sentence }));
  return problem.faults.map((fault) => ({
    sentence: sentencesOf({ kind: 'invalid', faults: [fault] }).join(' '),
    field: fault.field,
  }));
};
