import { coldestInJar } from '#libs/syrup/rules/judge-reading.js';
import type { PageProps } from '../page-context.js';
import { BoxFault, boxAttributes } from '../parts/box-fault.js';
import { Keypad } from '../parts/keypad.js';
import { ConcurrentEdit } from '../parts/concurrent-edit.js';
import type { HistoryLine } from '../parts/history.js';
import { type ProblemView, Summary } from '../parts/summary.js';
import { ThermometerWarningBox } from './thermometer-warning.js';
import { FillDetails } from './fill-details.js';
import type { FillFormView, FillView, NextCheck } from './fill-form-view.js';

export interface FillSectionProps extends PageProps {
  readonly code: string;
  readonly fillForm: FillFormView;
  readonly fills: readonly FillView[];
  readonly underway: boolean;
  readonly problem: ProblemView | undefined;
  readonly seen: number;
  readonly newerEntries?: readonly HistoryLine[];
  /** When the last jar was read. */
  readonly lastFill: string | undefined;
}

/** Temperatures in the jar as they are typed while filling, each with its verdict. */
export const FillSection = (props: FillSectionProps) => {
  const { code, fillForm, fills, underway, seen, page } = props;
  const last = fills.at(-1);
  const isCheckFirst = underway && (fillForm.warning?.canPostpone ?? false);
  return (
    <section id="fill" aria-label="Temperature in the jar, when it is capped">
      <Summary problem={props.problem} />
      <ConcurrentEdit page={page} newerEntries={props.newerEntries} />
      {last && <Judged last={last} lastFill={props.lastFill} />}
      {underway && <PourBackButtons {...props} />}
      {underway && fillForm.warning && <ThermometerWarningBox {...props} warning={fillForm.warning} />}
      {last?.low && (
        <p class="why">
          Keep those jars apart. Pour them back while the syrup is hot, fill them again, then tap the button.
        </p>
      )}
      <form
        method="post"
        action={`/packs/${code}/fill`}
        class="fill-form"
        data-pad="temperature"
        data-cold-f={coldestInJar.F}
        data-cold-c={coldestInJar.C}
        enctype="multipart/form-data"
        novalidate
      >
        <input type="hidden" name="_once" value={page.once} />
        <input type="hidden" name="_seen" value={seen} />
        <TemperatureField fillForm={fillForm} showsLimit={!last} />
        <button class={`main-action${last?.low || isCheckFirst ? ' second' : ''}`}>
          {fills.length > 0 ? 'Next jar' : 'First jar'}
        </button>
        <JarsCapped code={code} fillForm={fillForm} />
        <FillDetails fillForm={fillForm} />
      </form>
      {underway && <Next next={fillForm.next} soFar={fillForm.soFar} page={page} />}
      {underway && <FillingButtons {...props} />}
    </section>
  );
};

const Judged = ({ last, lastFill }: { readonly last: FillView; readonly lastFill: string | undefined }) => {
  const { kind, text } = last.low ? tooCold : last.whySuspect ? heldBy : last.pouredBack ? pouredBack : hotEnough;
  return (
    <p class={`judged ${kind}`}>
      <span class="reading thumb">{last.reading}</span> <span class={`verdict ${kind}`}>{text}</span>
      <span class="limit" data-since={lastFill} data-ago={lastFill === undefined ? undefined : ''}>
        limit 180 °F or 82 °C or more{last.beside ? '; ' + last.beside : ''}
      </span>
      {!last.low && last.whySuspect && (
        <span class="limit">
          Read {last.whySuspect}. While the jar is hot, read it by another thermometer; where that is hot enough, fill
          on with that one.
        </span>
      )}
      {last.pouredBack && <span class="limit">Read one of the jars that were filled again.</span>}
    </p>
  );
};
const tooCold = { kind: 'stops', text: 'TOO COLD' };
/** Hot enough only by a thermometer that was found wrong. */
const heldBy = { kind: 'stops', text: 'HELD' };
/** Its jars were filled again, so it no longer counts for them. */
const pouredBack = { kind: 'advice', text: 'poured back' };
const hotEnough = { kind: 'passes', text: 'hot enough' };

/** A button for each reading that holds its jars, the newest first: its jars were poured back and filled again. */
const PourBackButtons = ({ code, fills, seen, page }: FillSectionProps) => (
  <>
    {fills
      .map((fill, n) => ({ fill, n, isLast: n === fills.length - 1 }))
      .filter(({ fill }) => fill.low || fill.whySuspect)
      .reverse()
      .map(({ fill, n, isLast }) => (
        <form method="post" action={`/packs/${code}/poured-back`} class="poured-back">
          <input type="hidden" name="_once" value={`${page.once}-back-${n}`} />
          <input type="hidden" name="_seen" value={seen} />
          <input type="hidden" name="reading" value={fill.typed} />
          <button class={isLast && fill.low ? 'main-action stopping' : 'quiet'}>
            {fill.reading} {fill.beside}: poured back, filled again
          </button>
        </form>
      ))}
  </>
);

const Next = ({ next, soFar, page }: PageProps & { readonly next: NextCheck; readonly soFar: number }) => (
  <p class={`next-check${next.late ? ' late' : ''}`} role="status" data-due={next.due} data-at-jar={next.atJar}>
    <b>{next.text}</b>{' '}
    {soFar > 0 && (
      <span class="so-far">
        <b>{soFar}</b> {soFar === 1 ? 'jar' : 'jars'} counted.
      </span>
    )}{' '}
    <span class="small soft">
      {next.every}
      {next.isUsual && page.may('owner') && (
        <>
          {' '}
          <a href="/house?box=checkEvery#f-checkEvery">Set your own</a>
        </>
      )}
    </span>
  </p>
);

const TemperatureField = ({
  fillForm,
  showsLimit,
}: {
  readonly fillForm: FillFormView;
  readonly showsLimit: boolean;
}) => (
  <div class="field">
    <label for="f-temperature">Temperature in the jar</label>
    {showsLimit && <span class="hint">180 °F or 82 °C and more, when it is capped</span>}
    <span class="pair">
      <input
        {...boxAttributes(fillForm, 'temperature')}
        name="temperature"
        value={fillForm.typed}
        inputmode="decimal"
        autocomplete="off"
        enterkeyhint="done"
        autofocus
      />
      <select name="temperature~unit" aria-label="Unit">
        {['F', 'C'].map((unit) => (
          <option value={unit} selected={fillForm.unit === unit}>
            °{unit}
          </option>
        ))}
      </select>
    </span>
    <BoxFault field={fillForm} box="temperature" />
    <Keypad />
  </div>
);

/** How many jars are capped: the reading then covers those since the last count. */
const JarsCapped = ({ code, fillForm }: Pick<FillSectionProps, 'code' | 'fillForm'>) => {
  const upTo = boxAttributes(fillForm, 'upTo');
  return (
    <div class="field">
      <label for="f-upTo">Jars capped so far</label>
      <span class="pair">
        <input
          {...upTo}
          name="upTo"
          value={fillForm.upTo}
          inputmode="numeric"
          autocomplete="off"
          aria-describedby={['h-upTo', upTo['aria-describedby']].filter(Boolean).join(' ')}
          data-tally={code}
          data-so-far={fillForm.soFar}
        />
        <button type="button" class="quiet one-more">
          +1 jar
        </button>
      </span>
      <BoxFault field={fillForm} box="upTo" />
      <span class="hint" id="h-upTo">
        {fillForm.soFar > 0 ? (
          <>The reading then covers those since jar {fillForm.soFar}.</>
        ) : (
          'Leave blank if nobody counts. The reading then covers jar 1 to this one.'
        )}
      </span>
    </div>
  );
};

/** Ends the filling, or records broken glass. */
const FillingButtons = ({ code, seen, page }: FillSectionProps) => (
  <ul class="log-buttons">
    <li>
      <a class="quiet" href={`/packs/${code}/finish`}>
        All jars are filled
      </a>
    </li>
    <li>
      <form method="post" action={`/packs/${code}/broken-glass`}>
        <input type="hidden" name="_once" value={`${page.once}-glass`} />
        <input type="hidden" name="_seen" value={seen} />
        {/* jar-counter.js fills it in while jars are counted */}
        <input type="hidden" name="jar" data-broken={code} />
        <button class="quiet">Glass broke</button>
      </form>
    </li>
  </ul>
);
