import { type DeclaredRule, practice } from './declared-rule.js';

/** The rules about units that are probably mistyped: part of `holdRules`, in its order. */
export const unitRules = [
  {
    name: 'unit-question',
    title: 'Unit of the sample temperature',
    kind: 'stop',
    clears: 'evidence',
    missing: 'record',
    says: 'Where a sample at 50 to 79 °C is recorded in a pack whose other temperatures are in °F, and the density passes only by it, somebody answered whether the unit is wrong: yes or no.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'kettle-too-cold',
    title: 'Kettle too cold to fill from',
    kind: 'stop',
    clears: 'reason',
    says: 'The kettle was at 140 °F or 60 °C or more, and no colder than 180 °F or 82 °C while a jar filled from it was hotter; or a maker released the lot with the reason.',
    source: practice,
    mark: 'practice',
  },
] as const satisfies readonly DeclaredRule[];
