import { actionMethods } from '#libs/actions/kinds/corrective-action.js';
import { historyOf } from '#libs/store/log/log.js';
import { type Lot, recordsAbout } from '#libs/store/queries/lots.js';
import { choiceText, firstText, type Offer, type Posted } from '../../forms/field-view.js';
import { type Principal, readerOf } from '../../http/principal.js';

const offer = (value: string): Offer => ({ value, text: value });

/** Reasons to hold a lot that the rules cannot see: common practice, no source. */
export const holdReasons: readonly Offer[] = [
  'lids flex',
  'broken glass near the jars',
  'a customer complaint',
  'waiting for a test result',
].map(offer);

/**
 * Choices for a corrective action: the deviation, as the rules or the person who held the lot put it, and the held
 * jars. Jars are never preselected, since they decide what the action clears.
 */
export async function actionOffers(
  principal: Principal,
  lot: Lot,
): Promise<Readonly<Record<string, readonly Offer[]>>> {
  const stopsFound = (lot.verdict?.findings ?? []).filter(({ stop }) => stop).map(({ found }) => found);
  const history = await historyOf(readerOf(principal), lot.code);
  const hold = lot.state === 'held' ? history.filter((each) => each.entryType === 'hold').at(-1)?.why : undefined;
  const spans = lot.verdict?.heldJars;
  const heldJars =
    spans && spans.length > 0
      ? [spans.map(({ from, to }) => (from === to ? from : `${from}-${to}`)).join(' and ')]
      : [];
  return {
    found: [...new Set([...stopsFound, ...(hold ? [hold] : [])])].slice(0, 4).map(offer),
    jars: [...heldJars.map((value) => ({ value, text: `jars ${value}` })), { value: 'all', text: 'all jars' }],
  };
}

/** Reasons to release, from the recorded corrective actions, newest first. */
export async function releaseReasons(principal: Principal, code: string): Promise<readonly Offer[]> {
  const actions = await recordsAbout(readerOf(principal), code, 'action');
  return [...actions]
    .reverse()
    .slice(0, 3)
    .map(({ id, body }) => offer(`corrective action ${id}: ${body.done}`));
}

/** The chosen kind of action is what was done, if nothing else was written. */
export function withActionAsDone(posted: Posted): Posted {
  const way = firstText(posted['way']);
  const isKnown = (actionMethods as readonly string[]).includes(way) && way !== 'other';
  const done = firstText(posted['done']) === '' && isKnown ? { done: choiceText(way) } : {};
  // The time of a seal count is set to now beforehand; without a count there is nothing to date.
  const isUnused = firstText(posted['sealsFailed']) === '' && firstText(posted['sealsAt~ago']) !== 'other';
  return { ...posted, ...done, ...(isUnused ? { 'sealsAt~ago': '' } : {}) };
}
