import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { ChoiceButton } from '../parts/choice-field.js';
import { type ProblemView, Summary } from '../parts/summary.js';
import { RecallForm, type RecallFormProps } from './recall-form.js';
import { RecallList, type RecallListProps } from './recall-list.js';

export interface RecallPageProps {
  readonly title: string;
  readonly here: string;
  /** The search, as typed. */
  readonly thermometer: string;
  /** Instruments of the book, to pick from. */
  readonly instruments: readonly string[];
  readonly day: string;
  readonly lots: readonly string[];
  /** Codes of the newest lots, to pick from. */
  readonly known: readonly string[];
  readonly summary: ProblemView | undefined;
  /** The period in which the thermometer is suspect, in words. */
  readonly suspectPeriod: string;
  /** Undefined until something was searched for. */
  readonly list: (RecallListProps & RecallFormProps) | undefined;
  /** The lots now recalled; only where no list is shown. */
  readonly recalled: readonly string[];
}

/** From a deviation to every affected jar, with the button that recalls them. */
export const RecallPage = ({ page, ...props }: RecallPageProps & PageProps) => {
  const { list, recalled } = props;
  return (
    <Layout page={page} title={props.title} here={props.here}>
      <p class="crumb">
        <a href="/find">← Find</a>
      </p>
      <h1>Recall</h1>
      <p class="now">Pick what was found wrong, and see every jar it reaches. Viewing the list recalls nothing.</p>
      <Summary problem={props.summary} />
      {list ? (
        <>
          <details class="more">
            <summary>Start from something else</summary>
            <StartForm {...props} />
          </details>
          <RecallList list={list} suspectPeriod={props.suspectPeriod} />
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

const StartForm = ({ thermometer, instruments, day, lots, known }: RecallPageProps) => (
  <form method="get" action="/recall" novalidate>
    <div class="field">
      <fieldset id="f-thermometer" tabindex={-1} aria-describedby="f-thermometer-hint">
        <legend class="label">A thermometer or hydrometer found wrong</legend>
        <span class="hint" id="f-thermometer-hint">
          Every pack and boil with a reading that names it, since its last good check up to the failed one
        </span>
        {instruments.length > 0 && (
          <div class="choices">
            {instruments.map((id) => (
              <ChoiceButton name="thermometer" value={id} text={id} chosen={id === thermometer} />
            ))}
            <ChoiceButton
              name="thermometer"
              value=""
              text="none, or other"
              chosen={!instruments.includes(thermometer)}
            />
          </div>
        )}
        <input
          class="brief"
          name="thermometer"
          value={instruments.includes(thermometer) ? '' : thermometer}
          autocomplete="off"
          autocapitalize="off"
          aria-label="Another thermometer or hydrometer, as written on it"
          data-other=""
        />
      </fieldset>
    </div>
    <div class="field">
      <label for="f-day">A day</label>
      <span class="hint" id="f-day-hint">
        Everything boiled or packed that day
      </span>
      {day === '' || /^\d{4}-\d\d-\d\d$/.test(day) ? (
        <input {...dayBox} type="date" value={day} />
      ) : (
        <input {...dayBox} type="text" value={day} />
      )}
    </div>
    <div class="field">
      <label for="f-lot">Lots: boils, packs, gatherings, receipts</label>
      <div class="lot-boxes">
        {lotBoxes.map((n) => (
          <input
            id={n === 0 ? 'f-lot' : undefined}
            name="lot"
            value={n < lotBoxes.length - 1 ? (lots[n] ?? '') : lots.slice(n).join(' ')}
            autocomplete="off"
            autocapitalize="off"
            list="f-lot-known"
            aria-label={n === 0 ? undefined : `Lot ${n + 1}`}
          />
        ))}
      </div>
      <datalist id="f-lot-known">
        {known.map((code) => (
          <option value={code} />
        ))}
      </datalist>
    </div>
    <button class="main-action">List the jars</button>
  </form>
);

const lotBoxes = [0, 1, 2, 3] as const;

/** Text that is not a day stays visible: a date box would show nothing. */
const dayBox = { id: 'f-day', class: 'brief', name: 'day', autocomplete: 'off', 'aria-describedby': 'f-day-hint' };
