import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { Dispatches, type DispatchesProps } from '../parts/dispatches.js';
import { FactList } from '../parts/fact-list.js';
import type { FieldView } from '../parts/field-view.js';
import { Field } from '../parts/field.js';
import { More, type Paged } from '../parts/more.js';
import { Summary, type ProblemView } from '../parts/summary.js';

interface EarlierMockRecall {
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
  readonly elapsed: string;
  readonly upstream: {
    readonly shares: Paged<{ readonly lot: string; readonly part: string }>;
    readonly boils: Paged<string>;
    readonly gatherings: Paged<string>;
  };
  readonly dispatches: DispatchesProps;
  readonly jars: readonly (readonly [string, string | number])[];
  readonly problem: ProblemView | undefined;
  readonly fields: readonly FieldView[];
}

export interface MockRecallPageProps {
  /** The mock recall whose clock runs; undefined before one begins. */
  readonly running: undefined | MockRecallRunning;
  readonly title: string;
  readonly here: string;
  readonly earlier: readonly EarlierMockRecall[];
}

/** A mock recall: its jar, its clock and its result; before one begins, the earlier ones. */
export const MockRecallPage = ({ running, title, here, earlier, page }: MockRecallPageProps & PageProps) => {
  return (
    <Layout page={page} title={title} here={here}>
      <p class="crumb">
        <a href="/recall">← Recall</a>
      </p>
      <h1>Mock recall</h1>
      {running === undefined ? (
        <BeforeMockRecall earlier={earlier} page={page} />
      ) : (
        <RunningMockRecall {...running} page={page} />
      )}
    </Layout>
  );
};

/** What a mock recall is, the button that starts one, and the earlier ones. */
const BeforeMockRecall = ({ earlier, page }: Pick<MockRecallPageProps, 'earlier'> & PageProps) => (
  <>
    <p class="now">
      Boilbook draws a jar and starts a clock. Find its boils and sap, where the other jars of its lot went and whom you
      would call; count the shelf; then stop the clock. Nothing is recalled. Start and end are recorded. Once a season:
      common practice.
    </p>
    {page.may('maker') && (
      <form method="post" action="/recall/mock/begin">
        <input type="hidden" name="_once" value={page.once} />
        <button class="main-action">Draw a jar, start the clock</button>
      </form>
    )}
    <h2>Earlier mock recalls</h2>
    {earlier.length > 0 ? <EarlierMockRecalls earlier={earlier} /> : <p>Not yet.</p>}
  </>
);

const EarlierMockRecalls = ({ earlier }: Pick<MockRecallPageProps, 'earlier'>) => (
  <ol class="entry-list">
    {earlier.map((exercise) => (
      <li>
        <span class="when">
          <b>{exercise.when}</b>
          {exercise.by}
        </span>
        <div class="what">
          <p>
            {exercise.closed ? (
              <>
                <b>{exercise.seconds} s</b>, {exercise.result}
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
);

/** The jar that was drawn, what its records lead to, and the form that stops the clock. */
const RunningMockRecall = ({
  id,
  jar,
  pack,
  since,
  elapsed: gone,
  upstream,
  dispatches: went,
  jars,
  problem,
  fields,
  page,
}: MockRecallRunning & PageProps) => (
  <>
    <p class="now" data-since={since} data-seconds="">
      Jar <b class="code">{jar}</b> is drawn.<noscript>Since then: {gone}.</noscript>
    </p>
    <h2>Backward: what went in</h2>
    <WhatWentIn pack={pack} upstream={upstream} />
    <h2>Forward: where the other jars went</h2>
    {went.count > 0 ? (
      <>
        <p>Whom would you call, and is their number recorded?</p>
        <Dispatches {...went} />
      </>
    ) : (
      <p>None has left the sugarhouse, by the records.</p>
    )}
    <h2>Reconciliation</h2>
    <FactList facts={jars} />
    {page.may('maker') && (
      <>
        <Summary problem={problem} />
        <StopForm id={id} fields={fields} page={page} />
      </>
    )}
  </>
);

const WhatWentIn = ({ pack, upstream }: Pick<MockRecallRunning, 'pack' | 'upstream'>) => (
  <dl class="facts">
    <dt>Pack</dt>
    <dd>
      <a class="code" href={`/lots/${pack}`}>
        {pack}
      </a>
    </dd>
    <dt>Boils</dt>
    <dd>
      {upstream.shares.rows.map((share) => (
        <>
          <a class="code" href={`/lots/${encodeURIComponent(share.lot)}`}>
            {share.lot}
          </a>{' '}
          <span class="soft">{share.part}</span>{' '}
        </>
      ))}
      {upstream.boils.rows.map((boil) => (
        <>
          <a class="code" href={`/lots/${boil}`}>
            {boil}
          </a>{' '}
        </>
      ))}
      {upstream.boils.count || upstream.shares.count ? '' : 'none recorded'}
      <More {...upstream.boils} />
    </dd>
    <dt>Sap, and what was bought</dt>
    <dd>
      {upstream.gatherings.rows.map((gathering) => (
        <>
          <a class="code" href={`/lots/${encodeURIComponent(gathering)}`}>
            {gathering}
          </a>{' '}
        </>
      ))}
      {upstream.gatherings.count ? '' : 'none recorded'}
      <More {...upstream.gatherings} />
    </dd>
  </dl>
);

const StopForm = ({ id, fields, page }: Pick<MockRecallRunning, 'id' | 'fields'> & PageProps) => (
  <form method="post" action={`/recall/mock/${encodeURIComponent(id)}`} data-draft={`practise-${id}`} novalidate>
    <input type="hidden" name="_once" value={page.once} />
    {fields.map((field) => (
      <Field {...field} />
    ))}
    <button class="main-action">Stop the clock and save</button>
  </form>
);
