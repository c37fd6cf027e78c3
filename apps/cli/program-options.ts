/** Options that every command takes. `by` is also a field of records, with the same meaning: who writes. */
export const programOptions = {
  json: { type: 'boolean' },
  help: { type: 'boolean' },
  by: { type: 'string' },
  house: { type: 'string' },
  'clock-is-right': { type: 'boolean' },
  'begin-anew': { type: 'boolean' },
} as const;
