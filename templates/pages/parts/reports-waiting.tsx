import type { PageProps } from '../page-context.js';

/** A customer's report from a jar's page that no maker has read. */
export interface WaitingReport {
  readonly href: string;
  readonly jar: string;
  readonly when: string;
  /** It mentions mould or a bad seal. */
  readonly warns: boolean;
  readonly said: string;
}

export interface ReportsWaitingProps extends PageProps {
  readonly reports: readonly WaitingReport[];
}

/** Waiting customers' reports of a lot; one that suggests that other jars are bad too is a warning. */
export const ReportsWaiting = ({ reports, page }: ReportsWaitingProps) => (
  <>
    {reports.map(({ href, jar, when, warns, said }) => (
      <p class={warns ? 'why' : 'now'} role={warns ? 'alert' : undefined}>
        New customer report ({when}, jar <span class="code">{jar}</span>): “{said}”
        {warns && ' Read it before more of this lot is sent out.'}
        {page.mayWrite('complaint') && (
          <>
            {' '}
            <a href={href}>Read the report</a>
          </>
        )}
      </p>
    ))}
  </>
);
