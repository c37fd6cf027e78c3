import type { BoxAttributes, FieldProps } from './field-view.js';
import { UnitSelect } from './unit-select.js';

interface BoxProps {
  readonly field: FieldProps;
  readonly box: BoxAttributes;
}

/** A number and its unit: picked from several, or shown beside the box if there is only one. */
export const QuantityBox = ({ field: { name, label, typed, units, focus }, box }: BoxProps) => {
  const [unit] = units;
  return (
    <span class="pair">
      <input
        {...box}
        name={name}
        value={typed}
        inputmode="decimal"
        autocomplete="off"
        enterkeyhint="next"
        autofocus={focus}
      />
      {units.length > 1 ? (
        <UnitSelect name={`${name}~unit`} units={units} aria-label={`${label}: unit`} />
      ) : (
        unit && (
          <>
            <input type="hidden" name={`${name}~unit`} value={unit.value} />
            <span class="tick">{unit.text}</span>
          </>
        )
      )}
    </span>
  );
};

/** A box for a whole number. */
export const NumberBox = ({ field: { name, typed, focus }, box }: BoxProps) => (
  <input class="brief" {...box} name={name} value={typed} inputmode="numeric" autocomplete="off" autofocus={focus} />
);

const minutesAgo = [
  ['now', 'now'],
  ['5', '5 minutes ago'],
  ['10', '10 minutes ago'],
  ['20', '20 minutes ago'],
  ['30', 'half an hour ago'],
  ['60', 'an hour ago'],
  ['120', '2 hours ago'],
  ['other', 'other time'],
] as const;

/** A time, or how long ago it was. Text that isn't a time stays in the box. */
export const MomentBox = ({ field: { name, label, typed, ago, fault }, box }: BoxProps) => {
  const isTime = typed === '' || (/^\d{4}-\d\d-\d\dT\d\d:\d\d$/.test(typed) && !fault);
  const input = { ...box, name, value: typed, autocomplete: 'off', required: ago !== undefined };
  return (
    <span class="moment">
      {ago !== undefined && (
        <select name={`${name}~ago`} aria-label={`${label}: how long ago`}>
          {minutesAgo.map(([value, label]) => (
            <option value={value} selected={ago === value}>
              {label}
            </option>
          ))}
        </select>
      )}
      {isTime ? <input {...input} type="datetime-local" /> : <input {...input} type="text" />}
    </span>
  );
};

/** A choice from a list. */
export const SelectBox = ({ field: { name, choices }, box }: BoxProps) => (
  <select {...box} name={name}>
    {choices.every((choice) => choice.value !== '') && <option value="">choose …</option>}
    {choices.map((choice) => (
      <option value={choice.value} selected={choice.chosen}>
        {choice.text}
      </option>
    ))}
  </select>
);

/** A box for a day. */
export const DayBox = ({ field: { name, typed }, box }: BoxProps) => (
  <input class="brief" {...box} name={name} value={typed} type="date" />
);

/** Several values, one per line, or a text of any length. */
export const LongBox = ({ field: { name, label, control, typed, units, focus }, box }: BoxProps) => (
  <>
    {control === 'many' && (
      <>
        <span class="hint">One a line.</span>
        {units.length > 0 && (
          <UnitSelect
            class="brief"
            name={`${name}~unit`}
            units={units}
            aria-label={`${label}: unit where none is typed`}
          />
        )}
      </>
    )}
    <textarea {...box} name={name} rows={3} autofocus={focus}>
      {typed}
    </textarea>
  </>
);

/** A box to tick, with its label beside it. */
export const TickBox = ({ field: { name, label, typed }, box }: BoxProps) => (
  <label class="tick">
    <input
      type="checkbox"
      id={box.id}
      name={name}
      value="yes"
      checked={typed === 'yes'}
      aria-describedby={box['aria-describedby']}
    />
    <span>{label}</span>
  </label>
);
