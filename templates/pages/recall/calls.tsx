import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { More, type Paged } from '../parts/more.js';
import { RecallFacts, type RecallFactsProps } from './recall-facts.js';
import { Authorities, type RecallAuthority } from './authorities.js';

interface CallListCall {
  readonly jarsText: string;
  readonly sentText: readonly string[];
  readonly madeText: readonly string[];
  /** Why the jars set apart can't be right; blank where they can. */
  readonly doubt: string;
  readonly form: string;
  readonly dial: string;
  readonly to: string;
  readonly telephone: null | string;
  readonly contact: null | string;
  readonly laboratory: boolean;
  readonly reached: boolean;
}

export interface CallListPageProps extends RecallFactsProps {
  readonly title: string;
  readonly here: string;
  readonly query: string;
  readonly calls: Paged<CallListCall>;
  readonly reached: number;
  readonly countText: string;
  readonly setApartText: string;
  readonly authorities: readonly RecallAuthority[];
  readonly mayCall: boolean;
}

interface CallProps extends PageProps {
  readonly call: CallListCall;
  readonly n: number;
}

/** Whom to call in a recall, who was reached, and the form for each call. */
export const CallListPage = ({
  title,
  here,
  query,
  calls,
  reached,
  countText,
  setApartText,
  why,
  hazard,
  authorities,
  mayCall,
  page,
}: CallListPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href={`/recall?${query}`}>← Recall</a>
    </p>
    <h1>{title}</h1>
    <p class="now">
      {calls.count
        ? `${reached} of ${countText} reached. ${setApartText}`.trim()
        : 'No jar of these lots has left the sugarhouse, by the records.'}
    </p>
    {calls.count > 0 && (
      <>
        <h2>Whom to call</h2>
        <ol class="entry-list calls">
          {calls.rows.map((call, n) => (
            <CallItem call={call} n={n} mayCall={mayCall} page={page} />
          ))}
        </ol>
        <More {...calls} />
      </>
    )}
    {authorities.length > 0 && (
      <>
        <h2>Authorities</h2>
        <Authorities authorities={authorities} />
      </>
    )}
    <h2>The recall</h2>
    <RecallFacts why={why} hazard={hazard} />
    <p>
      <a class="act" href={`/recall/list.pdf?${query}`}>
        Print the list, PDF
      </a>
    </p>
  </Layout>
);

/** Whom to call, what they have, and the calls made so far. */
const CallItem = ({ call, n, mayCall, page }: CallProps & Pick<CallListPageProps, 'mayCall'>) => (
  <li>
    <span class="when">
      <b>{call.reached ? '☑ reached' : '☐ to call'}</b>
    </span>
    <div class="what">
      <p>
        <b>{call.to}</b>
        {call.laboratory && (
          <>
            {' '}
            <span class="soft">(a laboratory, not a buyer)</span>
          </>
        )}
        , {call.jarsText}
      </p>
      <p>
        {call.dial ? (
          <a class="act" href={`tel:${call.dial}`}>
            <b>{call.telephone}</b>
          </a>
        ) : (
          <b>{call.telephone ?? 'telephone not recorded'}</b>
        )}
        {call.contact && (
          <>
            {' '}
            <span class="soft">{call.contact}</span>
          </>
        )}
      </p>
      {call.sentText.map((each) => (
        <p class="small">{each}</p>
      ))}
      {call.madeText.map((each) => (
        <p>Called {each}</p>
      ))}
      {call.doubt && (
        <p>
          <b>{call.doubt}</b>
        </p>
      )}
      {mayCall && <CallForm call={call} n={n} page={page} />}
    </div>
  </li>
);

/** The buttons that record a call. `n` numbers the calls of the page. */
const CallForm = ({ call, n, page }: CallProps) => (
  <form method="post" action={call.form} class="call-made">
    <input type="hidden" name="_once" value={`${page.once}-${n}`} />
    <button class="quiet" name="reached" value="yes">
      Reached<span class="unseen"> {call.to}</span>
    </button>
    <button class="quiet" name="reached" value="no">
      No answer<span class="unseen"> from {call.to}</span>
    </button>
    <a class="act" href={call.form}>
      Add details<span class="unseen"> of the call to {call.to}</span>
    </a>
  </form>
);
