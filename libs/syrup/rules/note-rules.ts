import { type DeclaredRule, practice } from './declared-rule.js';

/** The rules about what a note says: part of `holdRules`, in its order. */
export const noteRules = [
  {
    name: 'note-question',
    title: 'Note that contradicts the record',
    kind: 'stop',
    clears: 'evidence',
    missing: 'record',
    says: 'For a note that mentions an ingredient, foreign matter, an off smell or taste, jars cold at capping, an instrument in doubt or added water, somebody answered whether it is so: yes or no.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'instrument-in-doubt',
    title: 'Instrument in doubt',
    kind: 'stop',
    clears: 'reason',
    says: 'No reading was taken with an instrument that the note calls wrong, or a maker released the lot with the reason.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'container-question',
    title: 'Container used before or not for syrup',
    kind: 'stop',
    clears: 'evidence',
    missing: 'record',
    says: 'For a container or note that names jars of another food, pails that are not for food, or lids used before, somebody answered whether it is so: yes or no.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'unfit-container',
    title: 'Unfit container or lid',
    kind: 'stop',
    clears: 'reason',
    says: 'Syrup is packed in clean containers made for food, with lids that were not used before, or a maker released the lot with the reason.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'thin-syrup-question',
    title: 'Thin syrup poured in',
    kind: 'stop',
    clears: 'evidence',
    missing: 'record',
    says: 'If a pack that was too thin was poured in, somebody answered whether it was poured in without being boiled: yes or no.',
    source: practice,
    mark: 'practice',
  },
] as const satisfies readonly DeclaredRule[];
