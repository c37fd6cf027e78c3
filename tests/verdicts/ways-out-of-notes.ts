import { correct, density, pack, release } from './verdict-case.js';
import { answered, consultation, measured, packedAgain, type WayOut } from './ways-out-steps.js';

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
