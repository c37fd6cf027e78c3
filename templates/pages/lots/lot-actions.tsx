import type { LotState } from '#libs/records/entry.js';
import type { PageProps } from '../page-context.js';
import type { NextAction } from '../parts/next-action.js';

export interface LotActionsProps extends PageProps {
  readonly kind: 'boil' | 'pack';
  readonly code: string;
  readonly state: LotState;
  /** The main button of the page, which isn't repeated here. */
  readonly next: NextAction | undefined;
  /** No jar of it is left: there is nothing to act on and nothing to release. */
  readonly isGone?: boolean;
  /** The page that adds a photo of it; undefined for people who may not. */
  readonly addPhoto: string | undefined;
}

/** What a maker may do with a lot, at the foot of its page. */
export const LotActions = ({ kind, code, state, next, isGone, addPhoto, page }: LotActionsProps) => {
  const isNext = (path: string): boolean => next?.href?.endsWith(path) ?? false;
  const lot = `/lots/${code}`;
  return (
    <ul class="log-buttons">
      <Action href={`${lot}/trace`}>Trace</Action>
      {page.may('maker') && (
        <>
          {kind === 'pack' && state !== 'recalled' && !isGone && !isNext('/act') && (
            <Action href={`${lot}/act`}>Corrective action</Action>
          )}
          {state === 'held' && !isGone && !isNext('/release') && <Action href={`${lot}/release`}>Release</Action>}
          {(state === 'open' || state === 'released') && <Action href={`${lot}/hold`}>Hold</Action>}
          {state !== 'recalled' && <Action href={`${lot}/recall`}>Recall</Action>}
          <Action href={`/records/${kind}/${code}/correct`}>Correct</Action>
        </>
      )}
      {addPhoto !== undefined && <Action href={addPhoto}>Add a photo</Action>}
    </ul>
  );
};

/** A link of a list of actions. */
export const Action = ({ href, children }: { readonly href: string; readonly children: string }) => (
  <li>
    <a class="quiet" href={href}>
      {children}
    </a>
  </li>
);
