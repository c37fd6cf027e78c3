import { draws } from '#libs/actions/kinds/draw.js';
import { lines } from '#libs/actions/kinds/boil-line.js';
import { invalid, unknown, type Refusal } from '#libs/actions/record/problem.js';
import { boilsUnderway } from '#libs/actions/kinds/boil.js';
import type { Recorded } from '#libs/actions/record/record.js';
import { one, type Posted } from '../../forms/field-view.js';
import { nextId } from '../../forms/next-id.js';
import { writeRecord } from '../../forms/write-record.js';
import type { Principal } from '../../http/principal.js';
import { logSteps, momentOf, neededIn } from './log-pages.js';

/** Writes what one button of the log requested: a line, a draw-off, or an addition to the boil's own record. */
export async function writeInLog(
  principal: Principal,
  code: string,
  what: string,
  sent: Posted,
): Promise<Recorded | Refusal> {
  const posted = withItsMoment(what, sent);
  const step = Object.hasOwn(logSteps, what) ? logSteps[what] : undefined;
  if (!step) return unknown('line of the log', what);
  switch (step.as) {
    case 'line':
      if (what === 'reading' && ['temperature', 'density', 'spoon', 'note'].every((name) => one(posted[name]) === ''))
        return invalid('temperature', 'a reading, or a note', 'nothing');
      return writeRecord(principal, lines, posted, { lot: code, what: step.line ?? 'note' });
    case 'draw':
      return writeRecord(principal, draws, posted, {
        boil: code,
        ...(one(posted['id']) ? {} : { id: await nextId(principal, 'draw', 'D') }),
      });
    case 'add': {
      const missing = (neededIn[what] ?? []).find((name) => blank(name, posted));
      if (missing) return invalid(missing, 'what this is about', 'nothing');
      return writeRecord(principal, boilsUnderway, posted, {}, { add: true, of: code });
    }
  }
}

/**
 * One choice of time applies to all one-tap buttons, so it is posted under its own name; a tap that was queued on the
 * device while the server was unreachable carries its own time.
 */
function withItsMoment(what: string, posted: Posted): Posted {
  const field = momentOf[what];
  const [ago, taken] = [one(posted['ago']), one(posted['takenAt'])];
  if (field === undefined || (ago === '' && taken === '')) return posted;
  return taken === '' ? { ...posted, [`${field}~ago`]: ago } : { ...posted, [field]: taken };
}

const blank = (name: string, posted: Posted): boolean =>
  one(posted[name]) === '' &&
  !Object.entries(posted).some(
    ([key, value]) => key.startsWith(`${name}~`) && !key.endsWith('~unit') && one(value) !== '',
  );
