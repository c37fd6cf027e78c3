import { ChoiceButton } from './choice-field.js';
import type { BoxAttributes, FieldProps, Tile, Tiles } from './field-view.js';

/** A text box, with values typed here before, and tiles to pick from where there are some. */
export const TextBox = ({ field, box }: { readonly field: FieldProps; readonly box: BoxAttributes }) => (
  <>
    {field.remembered && field.remembered.length > 0 && <Remembered {...field} remembered={field.remembered} />}
    {field.tiles && <TileRows name={field.name} tiles={field.tiles} />}
    {field.several ? <TwoBoxes field={field} box={box} /> : <OneBox field={field} box={box} />}
  </>
);

const Remembered = ({
  name,
  label,
  needed,
  several,
  remembered,
}: FieldProps & { readonly remembered: NonNullable<FieldProps['remembered']> }) => (
  <div class="choices remembered" role="group" aria-label={`${label}: used before`}>
    {remembered.map((choice) => (
      <ChoiceButton {...choice} name={`${name}~pick`} several={several ?? false} />
    ))}
    {!several && (
      <ChoiceButton
        name={`${name}~pick`}
        value=""
        text={needed ? 'other' : 'none, or other'}
        chosen={!remembered.some((choice) => choice.chosen)}
      />
    )}
  </div>
);

const TileRows = ({ name, tiles }: { readonly name: string; readonly tiles: Tiles }) => (
  <>
    <TileRow name={`${name}~kind`} legend="Kind" tiles={tiles.kinds} />
    <TileRow name={`${name}~size`} legend="Size" tiles={tiles.sizes} />
  </>
);

const TileRow = ({
  name,
  legend,
  tiles,
}: {
  readonly name: string;
  readonly legend: string;
  readonly tiles: readonly Tile[];
}) => (
  <fieldset class="tiles">
    <legend>{legend}</legend>
    <div class="choices">
      {tiles.map((tile) => (
        <ChoiceButton name={name} value={tile.value} text={tile.value} chosen={tile.chosen} />
      ))}
    </div>
  </fieldset>
);

const OneBox = ({
  field: { name, typed, remembered = [], tiles, focus },
  box,
}: {
  readonly field: FieldProps;
  readonly box: BoxAttributes;
}) => (
  <input
    {...box}
    name={name}
    value={typed}
    autocomplete="off"
    data-other={remembered.length > 0 || tiles ? '' : undefined}
    autofocus={focus}
  />
);

/** The first item of a list and the rest: a person seldom names more than two. */
const TwoBoxes = ({
  field: { name, label, typed },
  box,
}: {
  readonly field: FieldProps;
  readonly box: BoxAttributes;
}) => {
  const [first, ...rest] = typed.split(/[;\n]/);
  return (
    <span class="pair">
      <input {...box} name={name} value={first} autocomplete="off" />
      <input name={name} value={rest.join(';')} autocomplete="off" aria-label={`${label}, another`} />
    </span>
  );
};
