import { choice, required, optional, ownId, temperature, freeText } from '../../record/fields.js';
import { elevation, pressure } from '../../calculators/calculator.js';
import { checkVerdict, refuseImpossibleReference, hasSameReference, referenceReading } from '../instrument-check.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const checks = supportingRecord({
  kind: 'check',
  plural: 'checks',
  noun: 'check of an instrument',
  writer: 'helper',
  fields: {
    ...commonFields,
    instrument: required(ownId, { label: 'Instrument', example: 'T1' }),
    how: required(choice('ice', 'boiling-water', 'reference'), {
      label: 'How',
      choices: ['ice', 'boiling-water', 'reference'],
    }),
    reads: optional(temperature, { label: 'Reads', example: '32.5 F' }),
    should: optional(temperature, {
      label: 'Should read',
      example: '32 F',
      hint: 'If blank: 32 °F in ice water; in boiling water, calculated from the pressure or the elevation',
    }),
    pressure: optional(pressure, {
      label: 'Station pressure today',
      example: '29.4 inHg',
      hint: 'For boiling water. The local pressure, not reduced to sea level',
    }),
    elevation: optional(elevation, {
      label: 'Elevation',
      example: '1400 ft',
      hint: 'If the pressure is not known. If blank, the elevation of the sugarhouse',
    }),
    fit: optional(choice('yes', 'no'), {
      label: 'Reads right',
      choices: ['yes', 'no'],
      hint: 'For a hydrometer or refractometer. Leave blank for a thermometer: it is right within 2 °F',
    }),
    done: freeText({ label: 'What was done', example: 'none needed' }),
    note: noteField,
  },
  // An old check with impossible temperatures can still be corrected field by field.
  refuse: (check, { houseContext }, before) =>
    before && hasSameReference(check, before) ? undefined : refuseImpossibleReference(check, houseContext.house),
  complete: (check, _when, { houseContext }) => {
    const should = referenceReading(check, houseContext.house);
    return { body: { ...should }, notes: [checkVerdict({ ...check, ...should })] };
  },
});
