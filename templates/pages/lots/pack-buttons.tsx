import type { LotState } from '#libs/records/entry.js';
import type { PageProps } from '../page-context.js';
import type { NextAction } from '../parts/next-action.js';
import { Action } from './lot-actions.js';

export interface PackButtonsProps extends PageProps {
  readonly code: string;
  readonly state: LotState;
  readonly underway: boolean;
  /** What is not recorded yet. */
  readonly pending: { readonly density: boolean; readonly seals: boolean; readonly colour: boolean };
  /** The main button of the page, which isn't repeated here. */
  readonly next: NextAction | undefined;
}

/** What can be added to a pack's record. */
export const PackButtons = ({ code, state, underway, pending, next, page }: PackButtonsProps) => {
  const isNext = (path: string): boolean => next?.href?.endsWith(path) ?? false;
  return (
    <ul class="log-buttons" aria-label="Add to the record">
      {pending.density && <Action href={`/packs/${code}/density`}>Read the density</Action>}
      {pending.seals && !isNext('/seals') && <Action href={`/packs/${code}/seals`}>Check the seals</Action>}
      {pending.colour && <Action href={`/packs/${code}/looks`}>Colour and looks</Action>}
      {!underway && (
        <>
          {(state === 'open' || state === 'released') && !isNext('/labels') && (
            <Action href={`/lots/${code}/labels`}>Labels</Action>
          )}
          {page.mayWrite('dispatch') && !next?.href?.startsWith('/dispatches/new') && (
            <Action href={`/dispatches/new?lot=${code}`}>
              {state === 'held' || state === 'recalled' ? 'Destroyed or already left' : 'Send out'}
            </Action>
          )}
          <Action href={`/dispatches/count?lot=${code}`}>Count the shelf</Action>
        </>
      )}
    </ul>
  );
};
