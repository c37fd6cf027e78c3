import { measureNames } from '#libs/format/measure-names.js';
import { ChoiceButton } from '../parts/choice-field.js';
import type { FaultLine } from '../parts/faults.js';
import { PlainField } from '../parts/plain-field.js';

interface HouseField {
  readonly label: string;
  readonly hint: string;
  readonly example: string;
  readonly choices?: readonly string[];
}

interface Option {
  readonly value: string;
  readonly text: string;
}

const addressFields = [
  ['address', 'street-address'],
  ['town', 'address-level2'],
  ['postcode', 'postal-code'],
  ['phone', 'tel'],
] as const;
const measureFields = ['temperatures', 'volumes'] as const;
const measureHints = {
  temperatures: 'As on your thermometers. If none is chosen: °C in Canada, °F elsewhere',
  volumes: 'If none is chosen: litres in Canada, gallons elsewhere',
} as const;
type HouseFieldName =
  | (typeof addressFields)[number][0]
  | (typeof measureFields)[number]
  | 'name'
  | 'place'
  | 'zone'
  | 'federalLicence'
  | 'federalLicenceNumber';

export interface SugarhouseFieldsProps {
  readonly fields: Readonly<Record<HouseFieldName, HouseField>>;
  readonly faults: readonly FaultLine[];
  readonly typed: Readonly<Record<string, string>>;
  readonly places: readonly Option[];
  /** The zone of the machine, and all zones to choose from. */
  readonly zone: string;
  readonly zones: readonly Option[];
}

/** The first step: the name, the place whose rules apply and the zone; the rest is folded away and optional. */
export const SugarhouseFields = ({ fields, faults, typed, places, zone, zones }: SugarhouseFieldsProps) => {
  const faultOf = (name: string) => faults.find(({ field }) => field === name)?.sentence;
  const text = (name: HouseFieldName) => ({
    name,
    label: fields[name].label,
    value: typed[name] ?? '',
    fault: faultOf(name),
  });
  return (
    <>
      <PlainField {...text('name')} hint={`For example, ${fields.name.example}`} autocomplete="organization" />
      <Select
        {...fields.place}
        name="place"
        options={[{ value: '', text: 'choose …' }, ...places]}
        chosen={typed['place'] ?? ''}
        fault={faultOf('place')}
      />
      <Select
        {...fields.zone}
        name="zone"
        options={zones}
        chosen={typed['zone'] || zone}
        fault={faultOf('zone')}
        guessed={zone === 'UTC' && !typed['zone'] ? zone : undefined}
      />
      <details class="more" open={addressFields.some(([name]) => Boolean(typed[name] || faultOf(name)))}>
        <summary>Address, for labels (can wait)</summary>
        {addressFields.map(([name, autocomplete]) => (
          <PlainField {...text(name)} hint={hintOf(fields[name])} autocomplete={autocomplete} />
        ))}
      </details>
      <details
        class="more"
        open={Boolean(typed['federalLicence'] || typed['federalLicenceNumber'] || faultOf('federalLicenceNumber'))}
      >
        <summary>In Canada: a federal licence</summary>
        <fieldset class="field" id="f-federalLicence" aria-describedby="f-federalLicence-hint">
          <legend class="label">{fields.federalLicence.label}</legend>
          <span class="hint" id="f-federalLicence-hint">
            {fields.federalLicence.hint}
          </span>
          <Choices name="federalLicence" field={fields.federalLicence} chosen={typed['federalLicence']} />
        </fieldset>
        <PlainField {...text('federalLicenceNumber')} hint={fields.federalLicenceNumber.hint} />
      </details>
      {measureFields.map((name) => (
        <fieldset class="field" id={`f-${name}`} aria-describedby={`f-${name}-hint`}>
          <legend class="label">{fields[name].label}</legend>
          <span class="hint" id={`f-${name}-hint`}>
            {measureHints[name]}
          </span>
          <Choices name={name} field={fields[name]} chosen={typed[name]} />
        </fieldset>
      ))}
    </>
  );
};

const hintOf = ({ hint, example }: HouseField): string =>
  [hint, example && `For example, ${example}`].filter((each) => each !== '').join('. ');

const Choices = ({
  name,
  field: { choices = [] },
  chosen,
}: {
  readonly name: string;
  readonly field: HouseField;
  readonly chosen: string | undefined;
}) => (
  <div class="choices">
    {choices.map((choice) => (
      <ChoiceButton name={name} value={choice} text={measureNames[choice] ?? choice} chosen={choice === chosen} />
    ))}
  </div>
);

interface SelectProps {
  readonly name: string;
  readonly label: string;
  readonly hint: string;
  readonly options: readonly Option[];
  readonly chosen: string;
  readonly fault: string | undefined;
  /** The zone is only the machine's guess: the page's script replaces it with the device's. */
  readonly guessed?: string | undefined;
}

const Select = ({ name, label, hint, options, chosen, fault, guessed }: SelectProps) => (
  <div class={`field${fault ? ' wrong' : ''}`}>
    <label for={`f-${name}`}>{label}</label>
    <span class="hint" id={`f-${name}-hint`}>
      {hint}
    </span>
    {fault && <span class="fault">{fault}</span>}
    <select id={`f-${name}`} name={name} aria-describedby={`f-${name}-hint`} data-zone={guessed}>
      {options.map((option) => (
        <option value={option.value} selected={option.value === chosen}>
          {option.text}
        </option>
      ))}
    </select>
  </div>
);
