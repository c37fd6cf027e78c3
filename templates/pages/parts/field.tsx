import { Choices, Suggestions, Ticks } from './choice-field.js';
import type { BoxAttributes, FieldProps } from './field-view.js';
import { Pairs } from './pairs-field.js';
import { Portions } from './portions-field.js';
import { ReadingRows } from './readings-field.js';
import { DayBox, LongBox, MomentBox, NumberBox, QuantityBox, SelectBox, TickBox } from './simple-field.js';
import { JarSpans } from './spans-field.js';
import { JarsBoxes } from './jars-field.js';
import { TextBox } from './text-field.js';

/** A field of a form: its label, its notation, its fault, and its boxes. */
export const Field = (field: FieldProps) => {
  const { name, control, fault } = field;
  const id = `f-${name}`;
  const hintId = field.hint || field.example ? `${id}-hint` : undefined;
  const faultId = fault ? `${id}-fault` : undefined;
  const describedBy = [hintId, faultId].filter((each) => each !== undefined).join(' ') || undefined;
  const box: BoxAttributes = { id, 'aria-describedby': describedBy, 'aria-invalid': fault ? 'true' : undefined };
  const about = (
    <>
      {hintId && <Hint {...field} id={hintId} />}
      {faultId && (
        <span class="fault" id={faultId}>
          {fault}
        </span>
      )}
    </>
  );
  return (
    <div class={`field${fault ? ' wrong' : ''}`}>
      {isSeveralBoxes(field) ? (
        <fieldset id={id} tabindex={-1} aria-describedby={describedBy}>
          <legend class="label">
            <Label {...field} />
          </legend>
          {about}
          <Boxes field={field} box={box} />
        </fieldset>
      ) : (
        <>
          {control !== 'tick' && (
            <label for={id}>
              <Label {...field} />
            </label>
          )}
          {about}
          <Boxes field={field} box={box} />
        </>
      )}
    </div>
  );
};

const isSeveralBoxes = ({ control }: FieldProps): boolean =>
  control === 'choice' ||
  control === 'ticks' ||
  control === 'suggested' ||
  control === 'portions' ||
  control === 'readings' ||
  control === 'pairs' ||
  control === 'spans';

const Label = ({ label, needed }: FieldProps) => (
  <>
    {label}
    {needed && (
      <>
        {' '}
        <span class="asked">(needed)</span>
      </>
    )}
  </>
);

const Hint = ({ id, hint, example }: FieldProps & { readonly id: string }) => (
  <span class="hint" id={id}>
    {hint}
    {example && (
      <>
        {hint && (/[.?!]$/.test(hint) ? ' ' : '. ')}For example,{' '}
        <span class={example.length < 15 ? 'code whole' : 'code'}>{example}</span>
      </>
    )}
  </span>
);

const Boxes = ({ field, box }: { readonly field: FieldProps; readonly box: BoxAttributes }) => {
  switch (field.control) {
    case 'quantity':
      return <QuantityBox field={field} box={box} />;
    case 'number':
      return <NumberBox field={field} box={box} />;
    case 'moment':
      return <MomentBox field={field} box={box} />;
    case 'day':
      return <DayBox field={field} box={box} />;
    case 'choice':
      return <Choices {...field} />;
    case 'ticks':
      return <Ticks {...field} />;
    case 'suggested':
      return <Suggestions {...field} />;
    case 'select':
      return <SelectBox field={field} box={box} />;
    case 'portions':
      return <Portions field={field} box={box} />;
    case 'readings':
      return <ReadingRows field={field} box={box} />;
    case 'pairs':
      return <Pairs field={field} box={box} />;
    case 'jars':
      return <JarsBoxes field={field} box={box} />;
    case 'spans':
      return <JarSpans field={field} box={box} />;
    case 'many':
    case 'long':
      return <LongBox field={field} box={box} />;
    case 'tick':
      return <TickBox field={field} box={box} />;
    case 'text':
      return <TextBox field={field} box={box} />;
  }
};
