import { BoxFault, boxAttributes } from './box-fault.js';
import { ChoiceButton } from './choice-field.js';
import type { BoxAttributes, FieldProps, SpanRow } from './field-view.js';

/** Ranges of jars, a box for the first number and one for the last; known ranges, and all jars, can be picked. */
export const JarSpans = ({ field, box }: { readonly field: FieldProps; readonly box: BoxAttributes }) => {
  const { name, label, typed, remembered = [], spans = [] } = field;
  const offers = remembered.some(({ value }) => value === 'all')
    ? remembered
    : [...remembered, { value: 'all', text: 'all jars', chosen: typed === 'all' }];
  return (
    <>
      <div class="choices remembered" role="group" aria-label={`${label}: to pick`}>
        {offers.map((choice) => (
          <ChoiceButton {...choice} name={`${name}~pick`} />
        ))}
        <ChoiceButton name={`${name}~pick`} value="" text="by number" chosen={!offers.some(({ chosen }) => chosen)} />
      </div>
      {spans.map((row) => (
        <JarNumbers field={field} row={row} first={row.n === 1 ? 'Jar' : 'and jar'} />
      ))}
      {typed !== '' && typed !== 'all' && (
        <input {...box} id={undefined} name={name} value={typed} autocomplete="off" aria-label={`${label}, as typed`} />
      )}
    </>
  );
};

interface JarNumbersProps {
  readonly field: FieldProps;
  readonly row: SpanRow;
  /** The text before the first number. */
  readonly first: string;
}

/** The numbers of a first and a last jar, a box each. */
export const JarNumbers = ({ field, row, first }: JarNumbersProps) => {
  const [from, to] = [`${field.name}~from~${row.n}`, `${field.name}~to~${row.n}`];
  return (
    <>
      <BoxFault field={field} box={from} />
      <BoxFault field={field} box={to} />
      <div class="span-row">
        <label for={`f-${from}`}>{first}</label>
        <NumberOfJar field={field} box={from} value={row.from} />
        <label for={`f-${to}`}>to</label>
        <NumberOfJar field={field} box={to} value={row.to} />
      </div>
    </>
  );
};

interface NumberOfJarProps {
  readonly field: FieldProps;
  readonly box: string;
  readonly value: string;
}

const NumberOfJar = ({ field, box, value }: NumberOfJarProps) => (
  <input {...boxAttributes(field, box)} name={box} value={value} inputmode="numeric" autocomplete="off" data-other="" />
);
