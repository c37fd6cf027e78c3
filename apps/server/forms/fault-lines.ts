import { fieldText, type Problem, sentencesOf } from '#libs/actions/record/problem.js';
import type { FaultLine } from '#pages/parts/faults.js';
import { formatExpected } from './field-view.js';

/** What was wrong, one sentence per fault, with the field where the problem names one. */
export const faultLines = (problem: Problem | undefined): readonly FaultLine[] => {
  if (!problem) return [];
  if (!('faults' in problem) || !problem.faults) return sentencesOf(problem).map((sentence) => ({ sentence }));
  return problem.faults.map((fault) => ({
    sentence:
      fault.got === 'nothing'
        ? `${fieldText(fault.field)}: ${formatExpected(fault)}`
        : sentencesOf({ kind: 'invalid', faults: [fault] }).join(' '),
    field: fault.field,
  }));
};
