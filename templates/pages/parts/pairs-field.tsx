import type { BoxAttributes, FieldProps, PairView } from './field-view.js';
import { UnitSelect } from './unit-select.js';

/** A list whose items have two parts, a box each, with one unit for all the first ones. */
export const Pairs = ({ field, box }: { readonly field: FieldProps; readonly box: BoxAttributes }) =>
  field.pairs && (
    <>
      <div class="pair">
        <label class="tick" for={`${box.id}-unit`}>
          {field.pairs.unitLabel}
        </label>
        <UnitSelect id={`${box.id}-unit`} name={`${field.name}~unit`} units={field.units} />
      </div>
      <ol class="reading-rows of-two">
        {field.pairs.rows.map((row) => (
          <Row name={`${field.name}~pair~${row.n}`} pairs={field.pairs} row={row} />
        ))}
      </ol>
    </>
  );

interface RowProps {
  readonly name: string;
  readonly pairs: PairView | undefined;
  readonly row: PairView['rows'][number];
}

const Row = ({ name, pairs, row: { n, first, second } }: RowProps) => {
  // Text that is not a time stays visible: a time box would show nothing.
  const isTime = pairs?.isTime && (second === '' || /^\d\d:\d\d/.test(second));
  const box = {
    name: `${name}~second`,
    value: second,
    autocomplete: 'off',
    'aria-label': `${pairs?.second}, ${n}`,
  };
  return (
    <li>
      <input
        name={`${name}~first`}
        value={first}
        inputmode="decimal"
        autocomplete="off"
        aria-label={`${pairs?.first}, ${n}`}
      />
      <span class="soft">{pairs?.between}</span>
      {isTime ? <input {...box} type="time" /> : <input {...box} type="text" inputmode="numeric" />}
    </li>
  );
};
