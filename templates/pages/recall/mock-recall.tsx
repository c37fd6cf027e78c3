import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { Dispatches, type DispatchesProps } from '../parts/dispatches.js';
import { FactList } from '../parts/fact-list.js';
import type { FieldView } from '../parts/field-view.js';
import { Field } from '../parts/field.js';
import { More, type Paged } from '../parts/more.js';
import { Summary, type ProblemView } from '../parts/summary.js';

interface MockRecallHeld {
  readonly id: string;
  readonly when: string;
  readonly jar: string;
  readonly closed: boolean;
  readonly seconds: number;
  readonly result: string;
  readonly by: string;
}

interface MockRecallRunning {
  readonly id: string;
  readonly jar: string;
  readonly pack: string;
  readonly since: string;
  readonly gone: string;
  readonly up: {
    readonly shares: Paged<{ readonly lot: string; readonly part: string }>;
    readonly boils: Paged<string>;
    readonly gatherings: Paged<string>;
  };
  readonly went: DispatchesProps;
  readonly jars: readonly (readonly [string, string | number])[];
  readonly problem: ProblemView | undefined;
  readonly fields: readonly FieldView[];
}

export interface MockRecallPageProps {
  readonly running: undefined | MockRecallRunning;
  readonly title: string;
  readonly here: string;
  readonly held: readonly MockRecallHeld[] | readonly never[];
}

/** A mock recall: its jar, its clock and its result; before one begins, the earlier ones. */
export const MockRecallPage = ({ running, title, here, held, page }: MockRecallPageProps & PageProps) => {
  const r = running;
  return (
    <Layout page={page} title={title} here={here}>
      <p class="crumb">
        <a href="/recall">← Recall</a>
      </p>
      <h1>Mock recall</h1>
      {!r ? (
        <>
          <p class="now">
            Boilbook draws a jar and starts a clock. Find its boils and sap, where the other jars of its lot went and
            whom you would call; count the shelf; then stop the clock. Nothing is recalled. Start and end are recorded.
            Once a season: common practice.
          </p>
          {page.may('maker') && (
            <form method="post" action="/recall/mock/begin">
              <input type="hidden" name="_once" value={page.once} />
              <button class="main-action">Draw a jar, start the clock</button>
            </form>
          )}
          <h2>Earlier mock recalls</h2>
          {held.length > 0 ? (
            <ol class="entry-list">
              {held.map((exercise) => (
                <li>
                  <span class="when">
                    <b>{exercise.when}</b>
                    {exercise.by}
                  </span>
                  <div class="what">
                    <p>
                      {exercise.closed ? (
                        <>
                          <b>{exercise.seconds} s</b> {exercise.result}
                        </>
                      ) : (
                        <>
                          Started with jar <span class="code">{exercise.jar}</span>, not finished.{' '}
                          <a class="act" href={`/recall/mock/${encodeURIComponent(exercise.id)}`}>
                            Continue
                          </a>
                        </>
                      )}
                    </p>
                    <p class="small">
                      <a href={`/records/practice-recall/${encodeURIComponent(exercise.id)}`}>{exercise.id}</a>
                    </p>
                  </div>
                </li>
              ))}
            </ol>
          ) : (
            <p>Not yet.</p>
          )}
        </>
      ) : (
        <>
          <p class="now" data-since={r.since} data-seconds="">
            Jar <b class="code">{r.jar}</b> is drawn.<noscript>Since then: {r.gone}.</noscript>
          </p>
          <h2>Backward: what went in</h2>
          <dl class="facts">
            <dt>Pack</dt>
            <dd>
              <a class="code" href={`/lots/${r.pack}`}>
                {r.pack}
              </a>
            </dd>
            <dt>Boils</dt>
            <dd>
              {r.up.shares.rows.map((share) => (
                <>
                  <a class="code" href={`/lots/${encodeURIComponent(share.lot)}`}>
                    {share.lot}
                  </a>{' '}
                  <span class="soft">{share.part}</span>{' '}
                </>
              ))}
              {r.up.boils.rows.map((boil) => (
                <>
                  <a class="code" href={`/lots/${boil}`}>
                    {boil}
                  </a>{' '}
                </>
              ))}
              {r.up.boils.count || r.up.shares.count ? '' : 'none recorded'}
              <More {...r.up.boils} />
            </dd>
            <dt>Sap, and what was bought</dt>
            <dd>
              {r.up.gatherings.rows.map((gathering) => (
                <>
                  <a class="code" href={`/lots/${encodeURIComponent(gathering)}`}>
                    {gathering}
                  </a>{' '}
                </>
              ))}
              {r.up.gatherings.count ? '' : 'none recorded'}
              <More {...r.up.gatherings} />
            </dd>
          </dl>
          <h2>Forward: where the other jars went</h2>
          {r.went.count > 0 ? (
            <>
              <p>Whom would you call, and is their number recorded?</p>
              <Dispatches {...r.went} />
            </>
          ) : (
            <p>None has left the sugarhouse, by the records.</p>
          )}
          <h2>Reconciliation</h2>
          <FactList facts={r.jars} />
          {page.may('maker') && (
            <>
              <Summary problem={r.problem} />
              <form
                method="post"
                action={`/recall/mock/${encodeURIComponent(r.id)}`}
                data-draft={`practise-${r.id}`}
                novalidate
              >
                <input type="hidden" name="_once" value={page.once} />
                {r.fields.map((field) => (
                  <Field {...field} />
                ))}
                <button class="main-action">Stop the clock and save</button>
              </form>
            </>
          )}
        </>
      )}
    </Layout>
  );
};
