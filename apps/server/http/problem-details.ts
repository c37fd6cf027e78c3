import { type Fault, maxListed, type Problem, sentencesOf, shortenFault } from '#libs/actions/record/problem.js';

/** Problem details of RFC 9457, with which /api answers a refusal. */
export interface ProblemDetails {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly faults?: readonly Fault[];
  /** The number of all faults, where only the first are listed. */
  readonly faultsInAll?: number;
  readonly rule?: string;
  readonly entry?: number;
  readonly requestId?: string;
}

/** The HTTP status of a problem on pages; `apiDetails` differs for two kinds under /api. */
export function problemStatus(problem: Problem): number {
  switch (problem.kind) {
    case 'invalid':
      return 422;
    case 'unknown':
      return 404;
    case 'refused':
    case 'key-used':
    case 'changed-since':
      return 409;
  }
}

/**
 * Under /api a failed precondition (If-Match) and a key reused for other content have statuses of their own; a request that only
 * reads gets no sentence about saving.
 */
export function apiDetails(problem: Problem, { method }: { readonly method: string }): ProblemDetails {
  const details = problemDetails(problem);
  if (problem.kind === 'invalid' && method !== 'POST') return { ...details, title: 'Check the parameters' };
  if (problem.kind === 'changed-since') return { ...details, status: 412 };
  return problem.kind === 'key-used' ? { ...details, status: 422 } : details;
}

/** A problem as RFC 9457 details, with at most the first hundred faults. */
export function problemDetails(problem: Problem): ProblemDetails {
  return {
    type: `urn:boilbook:problem:${problem.kind}`,
    title: titles[problem.kind],
    status: problemStatus(problem),
    detail: sentencesOf(problem).join(' '),
    ...('faults' in problem && problem.faults ? listedFaults(problem.faults, problem) : {}),
    ...('rule' in problem ? { rule: problem.rule } : {}),
    ...('entry' in problem ? { entry: problem.entry } : {}),
  };
}

function listedFaults(faults: readonly Fault[], problem: Problem): Pick<ProblemDetails, 'faults' | 'faultsInAll'> {
  const inAll = Math.max(faults.length, (problem.kind === 'invalid' && problem.inAll) || 0);
  // A script gets the field: boxes belong to forms.
  const first = faults.slice(0, maxListed).map(({ box: _box, item: _item, ...fault }) => shortenFault(fault));
  return { faults: first, ...(inAll > first.length ? { faultsInAll: inAll } : {}) };
}

/** For refusals by HTTP itself, before any action runs: 401, 413, a malformed body. */
export const plainDetails = (status: number, title: string, detail: string): ProblemDetails => ({
  type: 'about:blank',
  title,
  status,
  detail,
});

const titles: Readonly<Record<Problem['kind'], string>> = {
  invalid: 'Not saved: check what was entered',
  unknown: 'Not in this book',
  refused: 'Refused by a rule',
  'key-used': 'Key already used for other content',
  'changed-since': 'Changed by somebody else in the meantime',
};
