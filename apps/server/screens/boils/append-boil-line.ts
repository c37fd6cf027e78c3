import { draws } from '#libs/actions/kinds/draw.js';
import { lines } from '#libs/actions/kinds/boil-line.js';
import { invalid, unknown, type Refusal } from '#libs/actions/record/problem.js';
import { boilsUnderway } from '#libs/actions/kinds/boil.js';
import type { Recorded } from '#libs/actions/record/record.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { nextId } from '../../forms/next-id.js';
import { writeRecord } from '../../forms/write-record.js';
import type { Principal } from '../../http/principal.js';
import { logSteps, timeFieldOfStep, requiredFieldsOfStep } from './log-pages.js';

/** Writes what one button of the log requested: a line, a draw-off, or an addition to the boil's own record. */
export async function appendBoilLine(
  principal: Principal,
  code: string,
  what: string,
  sent: Posted,
): Promise<Recorded | Refusal> {
  const posted = withStepTime(what, sent);
  const step = Object.hasOwn(logSteps, what) ? logSteps[what] : undefined;
  if (!step) return unknown('line of the log', what);
  switch (step.as) {
    case 'line':
      if (
        what === 'reading' &&
        ['temperature', 'density', 'spoon', 'note'].every((name) => firstText(posted[name]) === '')
      )
        return invalid('temperature', 'a reading, or a note', 'nothing');
      return writeRecord(principal, lines, posted, { lot: code, what: step.line ?? 'note' });
    case 'draw':
      return writeRecord(principal, draws, posted, {
        boil: code,
        ...(firstText(posted['id']) ? {} : { id: await nextId(principal, 'draw', 'D') }),
      });
    case 'add': {
      const missing = (requiredFieldsOfStep[what] ?? []).find((name) => isBlank(name, posted));
      if (missing) return invalid(missing, `text like ${boilsUnderway.fields[missing]?.example ?? ''}`, 'nothing');
      return writeRecord(principal, boilsUnderway, posted, {}, { add: true, of: code });
    }
  }
}

/**
 * One choice of time applies to all one-tap buttons, so it is posted under its own name; a tap that was queued on the
 * device while the server was unreachable carries its own time.
 */
function withStepTime(what: string, posted: Posted): Posted {
  const field = timeFieldOfStep[what];
  const [ago, takenAt] = [firstText(posted['ago']), firstText(posted['takenAt'])];
  if (field === undefined || (ago === '' && takenAt === '')) return posted;
  return takenAt === '' ? { ...posted, [`${field}~ago`]: ago } : { ...posted, [field]: takenAt };
}

const isBlank = (name: string, posted: Posted): boolean =>
  firstText(posted[name]) === '' &&
  !Object.entries(posted).some(
    ([key, value]) => key.startsWith(`${name}~`) && !key.endsWith('~unit') && firstText(value) !== '',
  );
