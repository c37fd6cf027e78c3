import { BoxFault, boxAttributes } from './box-fault.js';
import type { BoxAttributes, FieldProps, ReadingRow } from './field-view.js';
import { UnitSelect } from './unit-select.js';

/** Fill readings, with a box each for the temperature, the jars, the time and the thermometer. */
export const ReadingRows = ({ field, box }: { readonly field: FieldProps; readonly box: BoxAttributes }) => {
  const { name, label, typed, units, readings = [], readingsInSight = 0 } = field;
  const rest = readings.slice(readingsInSight);
  return (
    <>
      {units.length > 0 && (
        <div class="pair">
          <label class="tick" for={`${box.id}-unit`}>
            Temperatures in
          </label>
          <UnitSelect id={`${box.id}-unit`} name={`${name}~unit`} units={units} />
        </div>
      )}
      <div class="reading-heads" aria-hidden="true">
        <span>Read</span>
        <span>Jar</span>
        <span>to</span>
        <span>At</span>
        <span>With</span>
      </div>
      <Rows field={field} rows={readings.slice(0, readingsInSight)} />
      {(rest.length > 0 || typed !== '') && (
        <details class="more" open={typed !== '' || rest.some(isFilled)}>
          <summary>More readings</summary>
          <Rows field={field} rows={rest} />
          {typed && (
            <textarea name={name} rows={3} aria-label={`${label}, as typed`}>
              {typed}
            </textarea>
          )}
        </details>
      )}
    </>
  );
};

const isFilled = ({ n: _, ...boxes }: ReadingRow): boolean => Object.values(boxes).some((typed) => typed !== '');

const parts = ['temp', 'from', 'to', 'clock', 'thermometer'] as const;

const Rows = ({ field, rows }: { readonly field: FieldProps; readonly rows: readonly ReadingRow[] }) => (
  <ol class="reading-rows">
    {rows.map((row) => (
      <li>
        {parts.map((part) => (
          <RowBox field={field} row={row} part={part} />
        ))}
        {parts.map((part) => (
          <BoxFault field={field} box={boxName(field, row, part)} />
        ))}
      </li>
    ))}
  </ol>
);

const boxName = ({ name }: FieldProps, { n }: ReadingRow, part: string): string => `${name}~row~${n}~${part}`;

interface RowBoxProps {
  readonly field: FieldProps;
  readonly row: ReadingRow;
  readonly part: (typeof parts)[number];
}

const RowBox = ({ field, row, part }: RowBoxProps) => {
  const name = boxName(field, row, part);
  const box = { ...boxAttributes(field, name), name, value: row[part] };
  switch (part) {
    case 'temp':
      return <input {...box} inputmode="decimal" autocomplete="off" aria-label={`Temperature ${row.n}`} />;
    case 'from':
      return <input {...box} autocomplete="off" aria-label={`First jar it covers, ${row.n}`} />;
    case 'to':
      return <input {...box} inputmode="numeric" autocomplete="off" aria-label={`Last jar, ${row.n}`} />;
    case 'clock': {
      const label = `When it was read, ${row.n}`;
      // Text that is not a time stays visible: a time box would show nothing.
      return isClock(row.clock) ? (
        <input {...box} type="time" aria-label={label} />
      ) : (
        <input {...box} type="text" aria-label={label} />
      );
    }
    case 'thermometer':
      return <input {...box} autocomplete="off" aria-label={`With which thermometer, ${row.n}`} />;
  }
};

const isClock = (typed: string): boolean => typed === '' || /^\d\d:\d\d(?::\d\d)?$/.test(typed);
