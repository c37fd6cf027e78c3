import type { PageProps } from '../page-context.js';
import { ChoiceButton } from '../parts/choice-field.js';

/** A line that can be added to the log: its name in the address, and the button's text. */
export interface LogButton {
  readonly what: string;
  readonly text: string;
}

export interface BoilLogProps extends PageProps {
  readonly code: string;
  /** Steps that open a form. */
  readonly buttons: readonly LogButton[];
  /** Steps that take one tap. */
  readonly taps: readonly LogButton[];
}

const tapTimes = [
  ['now', 'now'],
  ['5', '5 min ago'],
  ['10', '10 min ago'],
  ['20', '20 min ago'],
  ['60', 'an hour ago'],
] as const;

/** The buttons of a boil's log. */
export const BoilLog = ({ code, buttons, taps, page }: BoilLogProps) => {
  const [first] = taps;
  const links = buttons.map((button) => (
    <a class="quiet" href={`/boils/${code}/log/${button.what}`}>
      {button.text}
    </a>
  ));
  return (
    <>
      {!first && links.length > 0 && (
        <div class="log-buttons" role="group" aria-label="Add to the log">
          {links}
        </div>
      )}
      {first && (
        <form method="post" action={`/boils/${code}/log/${first.what}`} class="taps" data-keep="">
          <input type="hidden" name="_once" value={`${page.once}-tap`} />
          <div class="log-buttons" role="group" aria-label="Add to the log">
            {links}
            {taps.map((tap) => (
              <button class="quiet" formaction={`/boils/${code}/log/${tap.what}`}>
                {tap.text}
              </button>
            ))}
          </div>
          <details class="more">
            <summary>Quick log at another time</summary>
            <fieldset>
              <legend class="label">When it happened</legend>
              <div class="choices">
                {tapTimes.map(([value, label]) => (
                  <ChoiceButton name="ago" value={value} text={label} chosen={value === 'now'} />
                ))}
              </div>
            </fieldset>
            <p class="small">
              At another time, or with a note:{' '}
              {taps.map((tap) => (
                <>
                  <a href={`/boils/${code}/log/${tap.what}`}>{tap.text.toLowerCase()}</a> &ensp;
                </>
              ))}
            </p>
          </details>
        </form>
      )}
    </>
  );
};
