import type { Choice } from './field-view.js';

export interface UnitSelectProps {
  readonly name: string;
  readonly units: readonly Choice[];
  readonly id?: string;
  readonly class?: string;
  readonly 'aria-label'?: string;
}

/** The units to choose for a number; the house's own first. */
export const UnitSelect = ({ units, ...select }: UnitSelectProps) => (
  <select {...select}>
    {units.map((unit) => (
      <option value={unit.value} selected={unit.chosen}>
        {unit.text}
      </option>
    ))}
  </select>
);
