import type { Judged, LotState } from '#libs/records/entry.js';
import { acceptedFindings, lastLotEntries } from '#libs/store/log/lot-entries.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { heldJarsOf, withAccepted } from '#libs/syrup/rules/accept-findings.js';
import { clearanceOf } from '#libs/syrup/rules/rules.js';
import type { Finding, Verdict } from '#libs/syrup/rules/verdict.js';
import { holdBegins } from './dispatch-findings.js';
import { judgeBoilLot } from './judge-boil-lot.js';
import type { JudgingContext } from './judging-context.js';
import { removedHoldsText } from './removed-holds.js';

/** A boil as judged now, with the status that follows. */
export const judgeBoilLotState = async (judging: JudgingContext, lot: Lot): Promise<Judged> =>
  withState(judging, lot, await judgeBoilLot(judging, judging.houseContext.place, lot));

/**
 * A broken hold rule holds, unless a release accepted exactly that finding. Where a new record (a reading, check or
 * count) clears the last one, the lot opens. Where somebody held it by hand, took a corrective action, or a correction
 * removed the finding, it stays held until it is released with a reason.
 */
export async function withState(judging: JudgingContext, lot: Lot, judged: Verdict): Promise<Judged> {
  const mayBeAccepted = judged.findings.some(({ stop, rule }) => stop && clearanceOf(rule) !== 'evidence');
  const accepted = mayBeAccepted ? await acceptedFindings(judging, lot.code) : [];
  const findings = withAccepted(judged.findings, accepted);
  const verdict: Verdict = { ...judged, findings, heldJars: heldJarsOf(findings) };
  const stopped = findings.some((finding) => finding.stop);
  const keep = (state: LotState, heldSince = lot.heldSince): Judged => ({ lot: lot.code, state, heldSince, verdict });
  if (lot.state === 'recalled') return keep('recalled');
  if (stopped) {
    // A hold that a correction removed still waits for a release when the remaining ones are cleared.
    const awaitsRelease = allRemovedHolds(judging, lot, findings);
    const since = lot.state === 'held' ? lot.heldSince : await holdBegins(judging, lot);
    if (awaitsRelease === undefined) return keep('held', since);
    return { lot: lot.code, state: 'held', heldSince: since, verdict: { ...verdict, awaitsRelease: awaitsRelease } };
  }
  if (lot.state !== 'held') return keep(lot.state);
  if (judging.upstreamReleased && !lot.verdict?.awaitsRelease) {
    const last = await lastLotEntries(judging, lot.code, ['hold', 'act', 'release']);
    return last && last.entryType !== 'release' ? keep('held') : keep('released');
  }
  const awaitsRelease = allRemovedHolds(judging, lot, findings);
  if (awaitsRelease)
    return { lot: lot.code, state: 'held', heldSince: lot.heldSince, verdict: { ...verdict, awaitsRelease } };
  const last = await lastLotEntries(judging, lot.code, ['hold', 'act', 'release']);
  if (last && last.entryType !== 'release') return keep('held');
  return { lot: lot.code, state: 'open', verdict };
}

/** Every hold that was removed since the last release, in sentences; undefined where none was. */
function allRemovedHolds(judging: JudgingContext, lot: Lot, findings: readonly Finding[]): string | undefined {
  const before = lot.verdict?.awaitsRelease;
  const now = removedHoldsText(judging, lot.verdict, findings);
  if (before === undefined || now === undefined || before.includes(now)) return before ?? now;
  return `${before} ${now}`;
}
