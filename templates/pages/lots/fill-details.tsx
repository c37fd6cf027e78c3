import { BoxFault, boxAttributes } from '../parts/box-fault.js';
import { PhotoFields } from '../parts/take-photo.js';
import { ChoiceButton } from '../parts/choice-field.js';
import type { FillFormView } from './fill-form-view.js';

const minutesAgo = [
  ['0', 'now'],
  ['5', '5 minutes ago'],
  ['10', '10 minutes ago'],
  ['20', '20 minutes ago'],
  ['30', 'half an hour ago'],
  ['60', 'an hour ago'],
] as const;

/** Thermometer, jars and time of a reading; folded away, since most readings need none of them. */
export const FillDetails = ({ fillForm: fillForm }: { readonly fillForm: FillFormView }) => (
  <details
    class="more"
    open={
      fillForm.thermometer !== '' ||
      [fillForm.jarsFrom, fillForm.jarsTo, fillForm.tray, fillForm.jars].some(Boolean) ||
      Number(fillForm.ago) > 0
    }
  >
    <summary>Thermometer, which jars, when, photo</summary>
    <ThermometerField fillForm={fillForm} />
    <div class="field">
      <span class="label">Which jars it covers</span>
      <span class="hint">If the jars are not counted</span>
      <div class="span-row">
        <label for="f-jars">Jar</label>
        <input
          {...boxAttributes(fillForm, 'jars')}
          name="jarsFrom"
          value={fillForm.jarsFrom}
          inputmode="numeric"
          autocomplete="off"
        />
        <label for="f-jarsTo">to</label>
        <input id="f-jarsTo" name="jarsTo" value={fillForm.jarsTo} inputmode="numeric" autocomplete="off" />
      </div>
      <div class="span-row">
        <label for="f-tray">or tray</label>
        <input id="f-tray" name="tray" value={fillForm.tray} autocomplete="off" />
      </div>
      {fillForm.jars !== '' && (
        <input name="jars" value={fillForm.jars} autocomplete="off" aria-label="Which jars, as typed" />
      )}
      <BoxFault field={fillForm} box="jars" />
    </div>
    <div class="field">
      <label for="f-ago">When</label>
      <select class="brief" id="f-ago" name="ago">
        {minutesAgo.map(([value, label]) => (
          <option value={value} selected={fillForm.ago === value}>
            {label}
          </option>
        ))}
      </select>
    </div>
    <PhotoFields problem={undefined} />
  </details>
);

/**
 * The thermometers of the house to pick from, and a box for any other. None is preselected: the thermometer decides
 * whether a reading counts.
 */
const ThermometerField = ({ fillForm: fillForm }: { readonly fillForm: FillFormView }) => {
  const { thermometer, thermometers } = fillForm;
  const isListed = thermometers.includes(thermometer);
  return (
    <div class="field">
      <label for="f-thermometer">Thermometer</label>
      {thermometers.length > 0 && (
        <div class="choices remembered" role="group" aria-label="Thermometer: those of the house">
          {thermometers.map((id) => (
            <ChoiceButton name="thermometer~pick" value={id} text={id} chosen={id === thermometer} />
          ))}
          <ChoiceButton name="thermometer~pick" value="" text="none, or other" chosen={!isListed} />
        </div>
      )}
      <span class="hint" id="h-thermometer">
        {thermometers.length > 0 ? 'Another one, by the id' : 'The id'} written on it, like <span class="code">T1</span>
      </span>
      <input
        {...boxAttributes(fillForm, 'thermometer')}
        class="brief"
        name="thermometer"
        value={isListed ? '' : thermometer}
        autocomplete="off"
        data-other={thermometers.length > 0 ? '' : undefined}
      />
      <BoxFault field={fillForm} box="thermometer" />
    </div>
  );
};
