export interface PlainFieldProps {
  readonly name: string;
  /** `f-` and the name by default. */
  readonly id?: string;
  readonly label: string;
  readonly hint?: string;
  readonly fault?: string | undefined;
  readonly value?: string;
  readonly isSecret?: boolean;
  readonly autocomplete?: string;
  readonly inputmode?: 'numeric';
  readonly class?: string;
}

/** A text box of a form that records nothing about a lot: its label, its notation, its fault. */
export const PlainField = ({
  name,
  id = `f-${name}`,
  label,
  hint,
  fault,
  isSecret,
  value,
  ...more
}: PlainFieldProps) => {
  const hintId = hint ? `${id}-hint` : undefined;
  const faultId = fault ? `${id}-fault` : undefined;
  const input = {
    id,
    name,
    autocomplete: 'off',
    ...more,
    // A password is not written into a page.
    value: isSecret ? '' : (value ?? ''),
    'aria-describedby': [hintId, faultId].filter((each) => each !== undefined).join(' ') || undefined,
    'aria-invalid': fault ? ('true' as const) : undefined,
  };
  return (
    <div class={`field${fault ? ' wrong' : ''}`}>
      <label for={id}>{label}</label>
      {hintId && (
        <span class="hint" id={hintId}>
          {hint}
        </span>
      )}
      {faultId && (
        <span class="fault" id={faultId}>
          {fault}
        </span>
      )}
      {isSecret ? <input {...input} type="password" /> : <input {...input} />}
    </div>
  );
};
