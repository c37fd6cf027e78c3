import type { FieldProps } from './field-view.js';

export interface ChoiceButtonProps {
  readonly name: string;
  readonly value: string;
  readonly text: string;
  readonly chosen: boolean;
  readonly several?: boolean;
}

/** One choice of several, large enough for a thumb. */
export const ChoiceButton = ({ name, value, text: label, chosen, several }: ChoiceButtonProps) => (
  <label class="choice">
    <input type={several ? 'checkbox' : 'radio'} name={name} value={value} checked={chosen} />
    <span>{label}</span>
  </label>
);

/** One of a few values, or none where the field is optional. */
export const Choices = ({ name, needed, noBlank, choices }: FieldProps) => (
  <div class="choices">
    {!needed && !noBlank && choices.every((choice) => choice.value !== '') && (
      <ChoiceButton name={name} value="" text="not recorded" chosen={!choices.some((choice) => choice.chosen)} />
    )}
    {choices.map((choice) => (
      <ChoiceButton {...choice} name={name} />
    ))}
  </div>
);

/** Tick boxes, none preselected. */
export const Ticks = ({ name, choices }: FieldProps) => (
  <div class="choices">
    {choices.map((choice) => (
      <ChoiceButton {...choice} name={name} several />
    ))}
  </div>
);

/** Values to pick, and a box for any other. */
export const Suggestions = ({ name, label, typed, choices }: FieldProps) => {
  const isOther = !choices.some((choice) => choice.chosen);
  return (
    <>
      <div class="choices">
        {choices.map((choice) => (
          <ChoiceButton {...choice} name={name} />
        ))}
        <ChoiceButton name={name} value="" text="other" chosen={isOther} />
      </div>
      <input
        name={name}
        value={isOther ? typed : ''}
        autocomplete="off"
        aria-label={`${label}, in other words`}
        data-other=""
      />
    </>
  );
};
