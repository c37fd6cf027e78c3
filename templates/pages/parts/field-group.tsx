import { Field } from './field.js';
import type { FieldView } from './field-view.js';
import { Photo } from './photo.js';

export interface FormGroup {
  readonly legend?: string;
  readonly text?: string;
  /** The text behind which the group is folded away. */
  readonly folded?: string;
  /** Folded although it is filled, except where a box is invalid or `opened` names the group's box. */
  readonly foldsFilled?: boolean;
  readonly opened?: string | undefined;
  /** What is shown in place of the group where other answers of the form decide it (forms.css says which). */
  readonly decided?: string | undefined;
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

/**
 * Fields that belong together: under a legend, folded away, or both. A filled field is folded away only where the group
 * says so, which then counts the filled fields.
 */
export const FieldGroup = ({ group, focus, noBlank = false, photo, camera = false }: FieldGroupProps) => {
  const fields = group.fields.map((field) => (
    <>
      <Field {...field} focus={focus === field.name} noBlank={noBlank} />
      {photo === field.name && <Photo photo={boxOfCodes(field)} camera={camera} />}
    </>
  ));
  const folded = group.folded ? (
    <details class="more" open={isOpen(group, noBlank)}>
      <summary>
        {group.folded}
        {group.foldsFilled && <Filled fields={group.fields} />}
      </summary>
      {fields}
    </details>
  ) : (
    <>{fields}</>
  );
  if (!group.legend) return folded;
  return (
    <fieldset class={group.decided ? 'group may-be-decided' : 'group'}>
      <legend>{group.legend}</legend>
      {group.decided && <p class="decided">{group.decided}</p>}
      {group.text && <p class="soft">{group.text}</p>}
      {folded}
    </fieldset>
  );
};

const isOpen = ({ fields, foldsFilled, opened }: FormGroup, noBlank: boolean): boolean =>
  foldsFilled
    ? fields.some(({ name, fault }) => fault !== undefined || name === opened)
    : fields.some((field) => isFilled(field, noBlank));

const Filled = ({ fields }: Pick<FormGroup, 'fields'>) => {
  const many = fields.filter(({ typed }) => typed !== '').length;
  return many === 0 ? null : <span class="soft small"> {many} filled</span>;
};

/** The box for codes: in a field of jars the one for codes, else the field's own. */
const boxOfCodes = ({ name, control }: FieldView): string => (control === 'jars' ? `${name}~codes` : name);

const isFilled = ({ typed, fault, choices }: FieldView, noBlank: boolean): boolean =>
  typed !== '' || fault !== undefined || (!noBlank && choices.some((choice) => choice.chosen));
