import { fieldText, type Problem, sentencesOf } from '#libs/actions/record/problem.js';
import type { FaultLine } from '#pages/parts/faults.js';
import { formatExpected } from './field-view.js';

/** What was wrong, one sentence per fault, headed with the label of its box, with the field where the problem names one. */
export const faultLines = (
  problem: Problem | undefined,
  labels: Readonly<Record<string, string>> = {},
): readonly FaultLine[] => {
  if (!problem) return [];
  if (!('faults' in problem) || !problem.faults) return sentencesOf(problem).map((sentence) => ({ sentence }));
  return problem.faults.map((fault) => ({
    sentence: `${labels[fault.field] ?? fieldText(fault.field)}: ${formatExpected(fault)}`,
    field: fault.field,
  }));
};
