import { act, another, correct, density, pack, record, release } from './verdict-case.js';
import { answered, consultation, measured, packedAgain, type WayOut } from './ways-out-steps.js';

const thinPoured = {
  pack: density('64 Bx', '60 F'),
  after: [
    another('pack', { fromLots: `${pack}:0.5 gal`, jars: '8', packedAt: '2026-03-20T10:00', fillTemps: '188 F' }),
  ],
  lot: '26077A-2',
};
const sampleInC = density('63.5 Bx', '68 C');

/** The ways out of what a note says, and of units that are probably mistyped. */
export const noteRemedies = {
  'note-question': [
    { held: { pack: { note: 'with vanilla beans' } }, out: [answered('no')], ends: 'open' },
    {
      held: { pack: { note: 'some jars were cold when capped' } },
      out: [answered('yes'), ...packedAgain()],
      ends: 'released',
    },
    {
      held: { pack: { note: 'paint flakes in the pan' } },
      out: [answered('yes'), release('asked first', pack, consultation)],
      ends: 'released',
    },
    {
      held: { pack: { note: 'three lids didn’t pop' } },
      out: [
        answered('yes'),
        act({ jars: '1-3', found: 'not sealed', done: 'destroyed', way: 'destroyed', sealsOutcome: 'destroyed' }),
        release('the others are sealed'),
      ],
      ends: 'released',
    },
    {
      held: { pack: { note: 'diluted with a little water' } },
      out: [answered('yes'), measured, release('measured again')],
      ends: 'released',
    },
  ],
  'instrument-in-doubt': [
    {
      held: { pack: { note: 'thermometer reads funny' }, after: [answered('yes')] },
      out: [release('checked in ice: it reads right')],
      ends: 'released',
    },
  ],
  'sources-incomplete': [
    {
      held: { pack: { note: 'mixed in an old jar from the fridge' }, after: [answered('yes')] },
      out: [release('the jar was of this boil too')],
      ends: 'released',
    },
  ],
  'container-question': [
    { held: { pack: { containerPrep: 'mayonnaise jars, washed' } }, out: [answered('no')], ends: 'open' },
  ],
  'unfit-container': [
    {
      held: { pack: { note: 'reused lids' }, after: [answered('yes')] },
      out: [release('new ones on top, all sealed')],
      ends: 'released',
    },
    {
      held: { pack: { note: 'reused lids' }, after: [answered('yes')] },
      out: [act({ way: 'destroyed', jars: 'all', found: 'see above', done: 'thrown out' }), release('all gone')],
      ends: 'released',
    },
  ],
  'thin-syrup-question': [
    { held: thinPoured, out: [record('answers', { lot: '26077A-2', answer: 'no' })], ends: 'open' },
  ],
  'unit-question': [
    { held: { pack: sampleInC }, out: [answered('no')], ends: 'open' },
    {
      held: { pack: sampleInC },
      out: [
        answered('yes'),
        correct('pack', pack, { densityReading: '67.5 Bx', densityAt: '68 F' }),
        release('the unit was mistyped, and the reading was another'),
      ],
      ends: 'released',
    },
  ],
  'kettle-too-cold': [
    { held: { pack: { hotPackTemp: '88 F' } }, out: [release('read an hour before filling')], ends: 'released' },
    {
      held: { pack: { hotPackTemp: '88 F' } },
      out: [correct('pack', pack, { hotPackTemp: '88 C' }), release('the unit was mistyped')],
      ends: 'released',
    },
  ],
} satisfies Readonly<Record<string, readonly WayOut[]>>;
