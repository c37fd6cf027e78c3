import { BoxFault, boxAttributes } from '../parts/box-fault.js';
import type { FillPad } from './fill-pad.js';

const minutesAgo = [
  ['0', 'now'],
  ['5', '5 minutes ago'],
  ['10', '10 minutes ago'],
  ['20', '20 minutes ago'],
  ['30', 'half an hour ago'],
  ['60', 'an hour ago'],
] as const;

/** With what a jar was read, for which jars the reading stands, and when; folded away, for most readings need none of it. */
export const FillDetails = ({ pad }: { readonly pad: FillPad }) => (
  <details class="more" open={pad.thermometer !== '' || pad.jars !== '' || Number(pad.ago) > 0}>
    <summary>Thermometer, which jars, when</summary>
    <div class="field">
      <label for="f-thermometer">Thermometer</label>
      <span class="hint">
        The id written on it, like <span class="code">T1</span>
      </span>
      <input
        {...boxAttributes(pad, 'thermometer')}
        class="brief"
        name="thermometer"
        value={pad.thermometer}
        autocomplete="off"
        list="thermometers"
      />
      <BoxFault field={pad} box="thermometer" />
      <datalist id="thermometers">
        {pad.thermometers.map((thermometer) => (
          <option value={thermometer} />
        ))}
      </datalist>
    </div>
    <div class="field">
      <label for="f-jars">Which jars it stands for</label>
      <span class="hint">
        Where they are not counted: <span class="code">jars 9-16</span> or <span class="code">tray 2</span>
      </span>
      <input {...boxAttributes(pad, 'jars')} class="brief" name="jars" value={pad.jars} autocomplete="off" />
      <BoxFault field={pad} box="jars" />
    </div>
    <div class="field">
      <label for="f-ago">When</label>
      <select class="brief" id="f-ago" name="ago">
        {minutesAgo.map(([value, label]) => (
          <option value={value} selected={pad.ago === value}>
            {label}
          </option>
        ))}
      </select>
    </div>
  </details>
);
