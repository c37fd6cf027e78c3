import type { BoxAttributes, FieldProps, ReadingRow } from './field-view.js';
import { UnitSelect } from './unit-select.js';

/** Readings in the jar, a box each for what was read, of which jar, when, and with what. */
export const ReadingRows = ({
  field: { name, label, typed, units, readings = [], readingsInSight = 0 },
  box,
}: {
  readonly field: FieldProps;
  readonly box: BoxAttributes;
}) => {
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
        <span>At</span>
        <span>With</span>
      </div>
      <Rows name={name} rows={readings.slice(0, readingsInSight)} />
      <details class="more" open={typed !== '' || rest.some((row) => row.temp !== '')}>
        <summary>More readings</summary>
        <Rows name={name} rows={rest} />
        {typed && (
          <textarea name={name} rows={3} aria-label={`${label}, as typed`}>
            {typed}
          </textarea>
        )}
      </details>
    </>
  );
};

const Rows = ({ name, rows }: { readonly name: string; readonly rows: readonly ReadingRow[] }) => (
  <ol class="reading-rows">
    {rows.map((row) => {
      const part = `${name}~row~${row.n}`;
      return (
        <li>
          <input
            name={`${part}~temp`}
            value={row.temp}
            inputmode="decimal"
            autocomplete="off"
            aria-label={`Temperature ${row.n}`}
          />
          <input
            name={`${part}~jars`}
            value={row.jars}
            autocomplete="off"
            aria-label={`Which jar was read, ${row.n}`}
          />
          <input name={`${part}~clock`} value={row.clock} type="time" aria-label={`When it was read, ${row.n}`} />
          <input
            name={`${part}~thermometer`}
            value={row.thermometer}
            autocomplete="off"
            aria-label={`With which thermometer, ${row.n}`}
          />
        </li>
      );
    })}
  </ol>
);
