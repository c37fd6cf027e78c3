import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { type ProblemView, Summary } from '../parts/summary.js';
import { RecallForm, type RecallFormProps } from './recall-form.js';
import { RecallList, type RecallListProps } from './recall-list.js';

export interface RecallPageProps {
  readonly title: string;
  readonly here: string;
  /** What was asked for, as typed. */
  readonly thermometer: string;
  readonly day: string;
  readonly lots: string;
  readonly summary: ProblemView | undefined;
  /** The time in which the thermometer is suspect, in words. */
  readonly doubt: string;
  /** Undefined until something was asked for. */
  readonly list: (RecallListProps & RecallFormProps) | undefined;
  /** Lots that are recalled now; only where no list is shown. */
  readonly recalled: readonly string[];
}

/** From what was found wrong to every jar, and the button that recalls them. */
export const RecallPage = ({ page, ...props }: RecallPageProps & PageProps) => {
  const { list, recalled } = props;
  return (
    <Layout page={page} title={props.title} here={props.here}>
      <p class="crumb">
        <a href="/find">← Find</a>
      </p>
      <h1>Recall</h1>
      <p class="now">From what was found wrong to every jar. Viewing the list recalls nothing.</p>
      <Summary problem={props.summary} />
      {list ? (
        <>
          <details class="more">
            <summary>Begin from something else</summary>
            <StartForm {...props} />
          </details>
          <RecallList list={list} doubt={props.doubt} />
          {page.may('maker') && !list.declared && <RecallForm list={list} page={page} />}
        </>
      ) : (
        <>
          <StartForm {...props} />
          {recalled.length > 0 && (
            <p>
              Recalled now:{' '}
              {recalled.map((code) => (
                <>
                  <a class="code" href={`/recall?lot=${encodeURIComponent(code)}`}>
                    {code}
                  </a>{' '}
                </>
              ))}
            </p>
          )}
          <p>
            <a href="/recall/mock">Mock recall</a>, once a season: common practice.
          </p>
        </>
      )}
    </Layout>
  );
};

const StartForm = ({ thermometer, day, lots }: RecallPageProps) => (
  <form method="get" action="/recall" novalidate>
    <div class="field">
      <label for="f-thermometer">A thermometer or hydrometer found wrong</label>
      <span class="hint" id="f-thermometer-hint">
        As written on it, like <span class="code">T1</span>: every pack and boil with a reading that names it, since its
        last good check up to the failed one
      </span>
      <input
        id="f-thermometer"
        class="brief"
        name="thermometer"
        value={thermometer}
        autocomplete="off"
        autocapitalize="off"
        aria-describedby="f-thermometer-hint"
      />
    </div>
    <div class="field">
      <label for="f-day">A day</label>
      <span class="hint" id="f-day-hint">
        All that was begun or packed on it, like <span class="code">2026-03-19</span>
      </span>
      <input id="f-day" class="brief" name="day" value={day} autocomplete="off" aria-describedby="f-day-hint" />
    </div>
    <div class="field">
      <label for="f-lot">Lots: boils, packs, gatherings, receipts</label>
      <span class="hint" id="f-lot-hint">
        Several with a blank between them
      </span>
      <input id="f-lot" name="lot" value={lots} autocomplete="off" autocapitalize="off" aria-describedby="f-lot-hint" />
    </div>
    <button class="main-action">List the jars</button>
  </form>
);
