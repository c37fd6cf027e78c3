import { BoxFault, boxAttributes } from './box-fault.js';
import { ChoiceButton } from './choice-field.js';
import type { BoxAttributes, FieldProps, PortionView } from './field-view.js';
import { UnitSelect } from './unit-select.js';

/** Lots to draw from, each with an amount; at the end a lot that isn't listed. */
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
      {field.portions.length === 0 && (field.more?.empty ?? []).length === 0 && (
        <p class="soft">Nothing is left by the records. Record the sap or syrup first, or enter the code of a lot.</p>
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

/** This many are offered to pick; an older one is typed. */
const maxOffered = 3;

/** A lot that isn't among the portions, by its code; of those with nothing left the newest can be picked. */
const OtherLot = ({ field, box }: { readonly field: FieldProps; readonly box: BoxAttributes }) => {
  const { name, more, portions } = field;
  const [lot, amount] = [`${name}~more`, `${name}~more~amount`];
  const offered = (more?.empty ?? []).slice(0, maxOffered);
  const typed = more?.lot ?? '';
  const ofLot = boxAttributes(field, lot);
  return (
    <>
      {offered.length > 0 && (
        <>
          <p class="soft" id={`f-${lot}-empty`}>
            With nothing left by the records, newest first:
          </p>
          <div class="choices remembered" role="group" aria-labelledby={`f-${lot}-empty`}>
            {offered.map((code) => (
              <ChoiceButton name={`${lot}~pick`} value={code} text={code} chosen={code === typed} />
            ))}
            <ChoiceButton
              name={`${lot}~pick`}
              value=""
              text={portions.length > 0 ? 'none, or other' : 'other'}
              chosen={!offered.includes(typed)}
            />
          </div>
        </>
      )}
      <div class="other-lot">
        <span>
          <label for={ofLot.id}>{portions.length > 0 ? 'Another lot' : 'Lot'}</label>
          <BoxFault field={field} box={lot} />
          <input
            {...ofLot}
            name={lot}
            value={offered.includes(typed) ? '' : typed}
            autocomplete="off"
            data-other={offered.length > 0 ? '' : undefined}
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
    </>
  );
};
