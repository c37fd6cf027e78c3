import type { PageProps } from '../page-context.js';
import { ChoiceButton } from '../parts/choice-field.js';
import type { Choice } from '../parts/field-view.js';

export interface StockChoice {
  readonly name: string;
  readonly text: string;
  readonly each: number;
  readonly chosen: boolean;
  /** The label fits on it; false for all where it fits on the chosen one. */
  readonly fits: boolean;
  /** Where the last run on it ended, and where to continue. */
  readonly last?: string;
  readonly continueLink?: { readonly href: string; readonly text: string } | undefined;
}

export interface ShiftField {
  readonly name: string;
  readonly label: string;
  readonly hint: string;
  readonly typed: string;
}

export interface LabelFormProps {
  readonly code: string;
  readonly seen?: number;
  /** The sheet that was chosen when the page was drawn: each sheet has its own shift. */
  readonly chosen: string;
  readonly stocks: readonly StockChoice[];
  readonly jars: number;
  /** What was posted or in the address, by name of the box. */
  readonly requested: Readonly<Record<string, string | undefined>>;
  readonly shifts: readonly ShiftField[];
  /** Layout, typeface and colour for this run; blank means the sugarhouse's own setting. */
  readonly looks: readonly { readonly name: string; readonly label: string; readonly choices: readonly Choice[] }[];
  /** A public address is set, so the QR code may link to the jar's page. */
  readonly mayLink: boolean;
}

/** The form for a run of labels: sheet, jars, look; print or preview. */
export const LabelForm = ({ page, ...form }: LabelFormProps & PageProps) => {
  const { code, seen, chosen, stocks, jars, requested, shifts } = form;
  return (
    <form method="post" action={`/lots/${code}/labels`} novalidate>
      <input type="hidden" name="_once" value={page.once} />
      {seen !== undefined && <input type="hidden" name="_seen" value={seen} />}
      <input type="hidden" name="was" value={chosen} />
      <Sheets stocks={stocks} />
      <fieldset class="group">
        <legend>Which jars</legend>
        <SmallField
          name="from"
          label="From jar"
          hint="Blank is the first"
          value={requested['from']}
          inputmode="numeric"
        />
        <SmallField
          name="to"
          label="To jar"
          hint={`Blank is the last, ${jars}`}
          value={requested['to']}
          inputmode="numeric"
        />
        <SmallField
          name="skip"
          label="Places already used on the first sheet"
          hint="Blank is none"
          value={requested['skip']}
          inputmode="numeric"
        />
      </fieldset>
      <details class="more" open={shifts.some(({ typed }) => typed !== '' && typed !== '0')}>
        <summary>Printer alignment: shift everything</summary>
        <p class="soft">In millimetres, such as 0.3 or -0.5. Saved with this label sheet.</p>
        {shifts.map((shift) => (
          <SmallField name={shift.name} label={shift.label} hint={shift.hint} value={shift.typed} />
        ))}
      </details>
      <Look {...form} />
      <button class="main-action" name="with" value="device">
        Print the labels
      </button>{' '}
      <button class="quiet">As a PDF</button>{' '}
      <button class="quiet" formmethod="get" formaction={`/lots/${code}/labels`}>
        Preview
      </button>
    </form>
  );
};

const Sheets = ({ stocks }: Pick<LabelFormProps, 'stocks'>) => (
  <fieldset class="group" id="f-stock">
    <legend>Label sheet</legend>
    {stocks.map((stock) => (
      <label class="tick">
        <input type="radio" name="stock" value={stock.name} checked={stock.chosen} />
        <span>
          {stock.fits && <b>Fits: </b>}
          {stock.text}, {stock.each} a page{' '}
          <a class="small" href={`/stocks/${stock.name}/alignment.pdf`}>
            alignment sheet<span class="unseen"> for {stock.text}</span>
          </a>
          {stock.last && (
            <>
              {' '}
              <span class="small soft">{stock.last}</span>
            </>
          )}
          {stock.continueLink && (
            <>
              {' '}
              <a class="small" href={stock.continueLink.href}>
                {stock.continueLink.text}
                <span class="unseen"> of {stock.text}</span>
              </a>
            </>
          )}
        </span>
      </label>
    ))}
    <p class="small">
      <a href="/stocks">Add label sheets of your own</a>
    </p>
  </fieldset>
);

const Look = ({ requested, looks, mayLink }: LabelFormProps) => (
  <details
    class="more"
    open={
      ['gtin', 'design', 'typeface', 'colour'].some((name) => Boolean(requested[name])) ||
      requested['symbol'] === 'text'
    }
  >
    <summary>Layout, typeface, colour, printer, symbol</summary>
    {looks.map((look) => (
      <div class="field">
        <label for={`f-${look.name}`}>{look.label}</label>
        <select id={`f-${look.name}`} name={look.name}>
          {look.choices.map((choice) => (
            <option value={choice.value} selected={choice.chosen}>
              {choice.text}
            </option>
          ))}
        </select>
      </div>
    ))}
    <p class="small">
      To use a choice for all labels, set it on <a href="/house?box=labelLayout#f-labelLayout">The sugarhouse</a>;{' '}
      <a href="/house/logo">a drawing of your own</a> goes on every label.
    </p>
    <div class="field">
      <fieldset>
        <legend class="label">Printer resolution, dpi</legend>
        <div class="choices">
          {['203', '300', '600'].map((dots) => (
            <ChoiceButton name="dpi" value={dots} text={dots} chosen={(requested['dpi'] || '300') === dots} />
          ))}
        </div>
      </fieldset>
    </div>
    {mayLink && (
      <>
        <div class="field">
          <fieldset>
            <legend class="label">The QR code contains</legend>
            <div class="choices">
              <ChoiceButton name="symbol" value="link" text="the jar’s page" chosen={requested['symbol'] !== 'text'} />
              <ChoiceButton
                name="symbol"
                value="text"
                text="lot, date, maker, phone"
                chosen={requested['symbol'] === 'text'}
              />
            </div>
          </fieldset>
        </div>
        <div class="field">
          <label for="f-gtin">Article number of your own, if you have one</label>
          <span class="hint" id="h-gtin">
            8, 12, 13 or 14 digits; the jar’s page address then uses it too (GS1 Digital Link)
          </span>
          <input
            id="f-gtin"
            name="gtin"
            value={requested['gtin']}
            inputmode="numeric"
            autocomplete="off"
            aria-describedby="h-gtin"
          />
        </div>
      </>
    )}
  </details>
);

interface SmallFieldProps {
  readonly name: string;
  readonly label: string;
  readonly hint: string;
  readonly value: string | undefined;
  readonly inputmode?: 'numeric';
}

const SmallField = ({ name, label, hint, value, inputmode }: SmallFieldProps) => (
  <div class="field">
    <label for={`f-${name}`}>{label}</label>
    <span class="hint" id={`h-${name}`}>
      {hint}
    </span>
    <input
      class="brief"
      id={`f-${name}`}
      name={name}
      value={value}
      inputmode={inputmode}
      autocomplete="off"
      aria-describedby={`h-${name}`}
    />
  </div>
);
