import { passedCheck, type InstrumentChecked, scalePoint, wasAdjusted, wasRetired } from './instrument-checks.js';

/** A failed check that nothing recorded since puts right. */
export interface OpenFailure {
  readonly check: InstrumentChecked;
  /** The instrument was adjusted then or later, and no good check followed. */
  readonly isAdjusted: boolean;
}

/**
 * The newest failed check of an instrument that is still in use: at its point no later check was good (a good check in
 * boiling water proves nothing in ice), and no good check at any point followed an adjustment. Undefined where there is
 * none, or where the instrument's last check says that it was taken out of use.
 */
export function openFailureOf(checks: readonly InstrumentChecked[]): OpenFailure | undefined {
  const inOrder = [...checks].sort((a, b) => a.atMs - b.atMs);
  const last = inOrder.at(-1);
  if (!last || wasRetired(last)) return undefined;
  const failed = inOrder.findLast((check, index) => {
    if (passedCheck(check) !== false) return false;
    const later = inOrder.slice(index + 1);
    return (
      !later.some((each) => scalePoint(each) === scalePoint(check) && passedCheck(each) !== undefined) &&
      !isPutRight(inOrder.slice(index))
    );
  });
  return failed && { check: failed, isAdjusted: inOrder.slice(inOrder.indexOf(failed)).some(wasAdjusted) };
}

function isPutRight(sinceFailure: readonly InstrumentChecked[]): boolean {
  const adjusted = sinceFailure.findIndex(wasAdjusted);
  return adjusted >= 0 && sinceFailure.slice(adjusted + 1).some((each) => passedCheck(each) === true);
}
