import { BoxFault, boxAttributes } from './box-fault.js';
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
              <Portion field={field} portion={portion} />
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

const Portion = ({ field, portion }: { readonly field: FieldProps; readonly portion: PortionView }) => {
  const amount = `${field.name}~of~${portion.code}`;
  return (
    <li>
      <label class="take">
        <input type="checkbox" name={field.name} value={portion.code} checked={portion.taken} />
        <span>
          <b class="code">{portion.code}</b> <span class="soft">{portion.text}</span>
        </span>
      </label>
      <input
        {...boxAttributes(field, amount)}
        name={amount}
        value={portion.amount}
        inputmode="decimal"
        autocomplete="off"
        aria-label={`How much of ${portion.code}, blank for all that is left`}
      />
      <BoxFault field={field} box={amount} />
    </li>
  );
};

const AmountUnit = ({ id, name, units }: FieldProps & { readonly id: string }) => (
  <div class="pair">
    <label class="tick" for={id}>
      Amounts in
    </label>
    <UnitSelect id={id} name={`${name}~unit`} units={units} />
  </div>
);

/** Lots with nothing left are still known here, for a record may be late. */
const OtherLot = ({ field, box }: { readonly field: FieldProps; readonly box: BoxAttributes }) => {
  const { name, more, portions } = field;
  const [lot, amount] = [`${name}~more`, `${name}~more~amount`];
  const known = more?.known ?? [];
  const list = known.length > 0 ? `${box.id}-known` : undefined;
  const ofLot = boxAttributes(field, lot);
  return (
    <>
      <div class="other-lot">
        <span>
          <label for={ofLot.id}>{portions.length > 0 ? 'Another lot' : 'Lot'}</label>
          <BoxFault field={field} box={lot} />
          <input
            {...ofLot}
            name={lot}
            value={more?.lot ?? ''}
            autocomplete="off"
            list={list}
            aria-describedby={ofLot['aria-describedby'] ?? box['aria-describedby']}
          />
        </span>
        <span>
          <label for={`f-${amount}`}>How much of it</label>
          <BoxFault field={field} box={amount} />
          <input
            {...boxAttributes(field, amount)}
            name={amount}
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
