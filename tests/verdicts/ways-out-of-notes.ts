import { pack, release } from './verdict-case.js';
import { answered, consultation, measured, packedAgain, type WayOut } from './ways-out-steps.js';

/** The ways out of what a note says. */
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
} satisfies Readonly<Record<string, readonly WayOut[]>>;
