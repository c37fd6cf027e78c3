import type { LotState } from '#libs/records/entry.js';
import type { PageProps } from '../page-context.js';
import type { NextAction } from '../parts/next-action.js';

export interface LotActionsProps extends PageProps {
  readonly kind: 'boil' | 'pack';
  readonly code: string;
  readonly state: LotState;
  /** The main button of the page, which isn't offered twice. */
  readonly next: NextAction | undefined;
}

/** What a maker may do with a lot, at the foot of its page. */
export const LotActions = ({ kind, code, state, next, page }: LotActionsProps) => {
  const isNext = (path: string): boolean => next?.href?.endsWith(path) ?? false;
  const lot = `/lots/${code}`;
  return (
    <ul class="buttons">
      <Action href={`${lot}/trace`}>Trace</Action>
      {page.may('maker') && (
        <>
          {kind === 'pack' && state !== 'recalled' && !isNext('/act') && (
            <Action href={`${lot}/act`}>Corrective action</Action>
          )}
          {state === 'held' && !isNext('/release') && <Action href={`${lot}/release`}>Release</Action>}
          {(state === 'open' || state === 'released') && <Action href={`${lot}/hold`}>Hold</Action>}
          {state !== 'recalled' && <Action href={`${lot}/recall`}>Recall</Action>}
          <Action href={`/records/${kind}/${code}/correct`}>Correct</Action>
        </>
      )}
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
