import type { PageProps } from '../page-context.js';
import { Keypad } from '../parts/keypad.js';
import { PhotoFields } from '../parts/take-photo.js';
import { ChoiceButton } from '../parts/choice-field.js';

/** A boil in progress: where it finishes today, how near it is, and when it is to be drawn off. */
export interface BoilProgressView {
  readonly unit: 'F' | 'C';
  /** Undefined until water was boiled. */
  readonly finish: { readonly reading: string; readonly limit: string } | undefined;
  /** As recorded, which gives a finishing temperature only where it is plausible. */
  readonly waterBoilsAt: string | undefined;
  readonly last: { readonly reading: string; readonly limit: string } | undefined;
  readonly toGo: string | undefined;
  readonly near: string | undefined;
  /** Degrees from which the page's script calls a typed reading near the finish. */
  readonly nearFromDegrees: number | undefined;
  readonly draw:
    | {
        readonly reading: string;
        readonly limit: string;
        readonly sentences: readonly string[];
        readonly earliestDraw: string | undefined;
      }
    | undefined;
  readonly pans: readonly string[];
}

export interface BoilProgressProps extends PageProps {
  readonly code: string;
  readonly progress: BoilProgressView;
}

/** The finishing point, in sight at the pan, and the form for the next reading. */
export const BoilProgress = ({ code, progress, page }: BoilProgressProps) => (
  <>
    <div class={`finish-bar${progress.near ? ' is-near' : ''}`} id="finish">
      {progress.finish && (
        <p>
          <span class="limit">finishes at</span>
          <span class="reading">{progress.finish.reading}</span>
        </p>
      )}
      {progress.last && (
        <p>
          <span class="limit">{progress.last.limit}</span>
          <span class="reading">{progress.last.reading}</span>
        </p>
      )}
      {progress.toGo && (
        <p class="to-go">
          <b>{progress.toGo}</b>
        </p>
      )}
    </div>
    {!progress.finish && (
      <p class="why">
        {progress.waterBoilsAt
          ? `No finishing temperature follows from water that boils at ${progress.waterBoilsAt}. `
          : 'Today’s finishing temperature is not known yet. '}
        <a href={`/boils/${code}/log/water`}>
          {progress.waterBoilsAt ? 'Correct it.' : 'Enter the boiling point of water.'}
        </a>
      </p>
    )}
    {progress.near && (
      <p class="why near" role="alert" data-near="">
        {progress.near} {page.may('helper') && <a href={`/boils/${code}/log/cup`}>Hot cup</a>}
      </p>
    )}
    {page.may('helper') && <ReadingForm code={code} progress={progress} page={page} />}
    {progress.finish && <p class="limit">{progress.finish.limit}</p>}
    {progress.draw ? (
      <>
        <p class="draw-off" data-near-at={progress.draw.earliestDraw}>
          <span class="reading">{progress.draw.reading}</span>
          <span class="limit">{progress.draw.limit}</span>
        </p>
        <details class="more">
          <summary>How that is calculated</summary>
          <p class="small soft">{progress.draw.sentences.join(' ')}</p>
        </details>
      </>
    ) : (
      progress.finish && (
        <p class="small soft">
          After two readings of one pan, well above boiling water, the time to draw off is shown here.
        </p>
      )
    )}
  </>
);

const readingTimes = [
  ['now', 'now'],
  ['5', '5 minutes ago'],
  ['10', '10 minutes ago'],
  ['20', '20 minutes ago'],
  ['30', 'half an hour ago'],
  ['60', 'an hour ago'],
] as const;

/** The names in the log's field. */
const spoonSigns = ['drops', 'two-drops-together', 'sheet'];

const ReadingForm = ({ code, progress, page }: BoilProgressProps) => (
  <form
    method="post"
    action={`/boils/${code}/log/reading`}
    class="fill-form"
    data-pad="temperature"
    enctype="multipart/form-data"
    data-near-from={progress.nearFromDegrees}
    data-near-unit={progress.nearFromDegrees !== undefined ? progress.unit : undefined}
    novalidate
  >
    <input type="hidden" name="_once" value={page.once} />
    <div class="field">
      <label for="f-temperature">Temperature in the pan</label>
      <span class="pair">
        <input
          id="f-temperature"
          name="temperature"
          inputmode="decimal"
          autocomplete="off"
          enterkeyhint="done"
          aria-describedby="h-temperature"
        />
        <select name="temperature~unit" aria-label="Unit">
          {['F', 'C'].map((unit) => (
            <option value={unit} selected={progress.unit === unit}>
              °{unit}
            </option>
          ))}
        </select>
      </span>
      <Keypad />
    </div>
    <button class="main-action">Save reading</button>
    <p class="hint" id="h-temperature">
      A thermometer only shows when to test; a hydrometer or refractometer decides.
    </p>
    <div class="field two-in-row">
      <PanField pans={progress.pans} />
      <div>
        <label for="f-at-ago">When</label>
        <select id="f-at-ago" name="at~ago">
          {readingTimes.map(([value, label]) => (
            <option value={value}>{label}</option>
          ))}
        </select>
      </div>
    </div>
    <details class="more">
      <summary>Off the spoon, {progress.pans.length > 0 && 'another pan, '}photo</summary>
      {progress.pans.length > 0 && (
        <div class="field">
          <label for="f-other-pan">Another pan</label>
          <input id="f-other-pan" name="pan" autocomplete="off" />
        </div>
      )}
      <div class="field">
        <span class="label" id="l-spoon">
          Off the spoon it runs in
        </span>
        <span class="hint" id="h-spoon">
          A sign, never a measurement
        </span>
        <div class="choices" role="group" aria-labelledby="l-spoon" aria-describedby="h-spoon">
          {spoonSigns.map((sign) => (
            <ChoiceButton name="spoon" value={sign} text={sign.replaceAll('-', ' ')} chosen={false} />
          ))}
        </div>
      </div>
      <PhotoFields problem={undefined} />
    </details>
  </form>
);

/**
 * The pans read before to pick from, with the last one preselected, since its name is no reading. The first is typed.
 */
const PanField = ({ pans }: { readonly pans: readonly string[] }) => (
  <div>
    <label for="f-pan">Which pan</label>
    {pans.length === 0 ? (
      <input id="f-pan" name="pan" autocomplete="off" />
    ) : (
      <select id="f-pan" name="pan~pick">
        {pans.map((pan) => (
          <option value={pan}>{pan}</option>
        ))}
        <option value="">not recorded</option>
      </select>
    )}
  </div>
);
