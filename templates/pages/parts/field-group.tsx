import { Field } from './field.js';
import type { FieldView } from './field-view.js';
import { Photo } from './photo.js';

export interface FormGroup {
  readonly legend?: string;
  readonly text?: string;
  /** The text behind which the group is folded away. */
  readonly folded?: string;
  readonly fields: readonly FieldView[];
}

export interface FieldGroupProps {
  readonly group: FormGroup;
  /** Name of the box that the page opens at. */
  readonly focus?: string | undefined;
  readonly noBlank?: boolean;
  /** Name of the field that codes scanned from labels go into. */
  readonly photo?: string | undefined;
  readonly camera?: boolean;
}

/** Fields that belong together: under a legend, folded away, or both. A filled field is never folded away. */
export const FieldGroup = ({ group, focus, noBlank = false, photo, camera = false }: FieldGroupProps) => {
  const fields = group.fields.map((field) => (
    <>
      <Field {...field} focus={focus === field.name} noBlank={noBlank} />
      {photo === field.name && <Photo photo={boxOfCodes(field)} camera={camera} />}
    </>
  ));
  const folded = group.folded ? (
    <details class="more" open={group.fields.some((field) => isFilled(field, noBlank))}>
      <summary>{group.folded}</summary>
      {fields}
    </details>
  ) : (
    <>{fields}</>
  );
  if (!group.legend) return folded;
  return (
    <fieldset class="group">
      <legend>{group.legend}</legend>
      {group.text && <p class="soft">{group.text}</p>}
      {folded}
    </fieldset>
  );
};

/** The box for codes: in a field of jars the one for codes, else the field's own. */
const boxOfCodes = ({ name, control }: FieldView): string => (control === 'jars' ? `${name}~codes` : name);

const isFilled = ({ typed, fault, choices }: FieldView, noBlank: boolean): boolean =>
  typed !== '' || fault !== undefined || (!noBlank && choices.some((choice) => choice.chosen));
