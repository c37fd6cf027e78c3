import { BoxFault, boxAttributes } from './box-fault.js';
import type { BoxAttributes, FieldProps } from './field-view.js';
import { NumberBox } from './simple-field.js';
import { JarNumbers } from './spans-field.js';

/** How many jars; unfolded, which: by code, which the camera fills in, or by number. */
export const JarsBoxes = ({ field, box }: { readonly field: FieldProps; readonly box: BoxAttributes }) => {
  const { name, codes = '', spans = [] } = field;
  const codesName = `${name}~codes`;
  const isFilled = codes !== '' || spans.some(({ from, to }) => from !== '' || to !== '');
  return (
    <>
      <BoxFault field={field} box={name} />
      <NumberBox field={field} box={box} />
      <details class="more" open={isFilled}>
        <summary>Which jars, by code or number</summary>
        <label for={`f-${codesName}`}>Jar codes</label>
        <span class="hint">One a line, like K7QM-3XWT</span>
        <BoxFault field={field} box={codesName} />
        <textarea {...boxAttributes(field, codesName)} name={codesName} rows={3} autocomplete="off">
          {codes}
        </textarea>
        <p class="hint">Or their numbers in the pack</p>
        {spans.map((row) => (
          <JarNumbers field={field} row={row} first={row.n === 1 ? 'Jar' : 'and jar'} />
        ))}
      </details>
    </>
  );
};
