import type { BoxAttributes, FieldProps, PortionView } from './field-view.js';
import { UnitSelect } from './unit-select.js';

/** Lots to draw from, each with how much; last a lot that isn't listed. */
export const Portions = ({ field, box }: { readonly field: FieldProps; readonly box: BoxAttributes }) => {
  const unit = <AmountUnit {...field} id={`${box.id}-unit`} />;
  return (
    <>
      {field.portions.length > 0 && (
        <>
          <ul class="portions">
            {field.portions.map((portion) => (
              <Portion name={field.name} portion={portion} />
            ))}
          </ul>
          {unit}
        </>
      )}
      <OtherLot field={field} box={box} />
      {field.portions.length === 0 && unit}
    </>
  );
};

const Portion = ({ name, portion }: { readonly name: string; readonly portion: PortionView }) => (
  <li>
    <label class="take">
      <input type="checkbox" name={name} value={portion.code} checked={portion.taken} />
      <span>
        <b class="code">{portion.code}</b> <span class="soft">{portion.text}</span>
      </span>
    </label>
    <input
      name={`${name}~of~${portion.code}`}
      value={portion.amount}
      inputmode="decimal"
      autocomplete="off"
      aria-label={`How much of ${portion.code}, blank for all that is left`}
    />
  </li>
);

const AmountUnit = ({ id, name, units }: FieldProps & { readonly id: string }) => (
  <div class="pair">
    <label class="tick" for={id}>
      Amounts in
    </label>
    <UnitSelect id={id} name={`${name}~unit`} units={units} />
  </div>
);

/** Lots with nothing left are still known here, for a record may be late. */
const OtherLot = ({
  field: { name, more, portions },
  box,
}: {
  readonly field: FieldProps;
  readonly box: BoxAttributes;
}) => {
  const known = more?.known ?? [];
  const list = known.length > 0 ? `${box.id}-known` : undefined;
  return (
    <>
      <div class="other-lot">
        <span>
          <label for={`${box.id}-more`}>{portions.length > 0 ? 'Another lot' : 'Lot'}</label>
          <input
            id={`${box.id}-more`}
            name={`${name}~more`}
            value={more?.lot ?? ''}
            autocomplete="off"
            list={list}
            aria-describedby={box['aria-describedby']}
          />
        </span>
        <span>
          <label for={`${box.id}-amount`}>How much of it</label>
          <input
            id={`${box.id}-amount`}
            name={`${name}~more~amount`}
            value={more?.amount ?? ''}
            inputmode="decimal"
            autocomplete="off"
          />
        </span>
      </div>
      {list && (
        <datalist id={list}>
          {known.map((code) => (
            <option value={code} />
          ))}
        </datalist>
      )}
    </>
  );
};
