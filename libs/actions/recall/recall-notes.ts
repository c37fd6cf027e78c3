import { reasonTooLong } from '../record/field-limits.js';
import { type Fields, freeText } from '../record/fields.js';
import { type Refusal, invalid } from '../record/problem.js';

/** Optional notes of a recall beside its reason. For a blank the list prints “not recorded”. */
export interface RecallNotes {
  readonly hazard: string;
  readonly whoMayBeHurt: string;
  readonly whatToDo: string;
}
export const noRecallNotes: RecallNotes = { hazard: '', whoMayBeHurt: '', whatToDo: '' };

export const recallNoteFields = {
  hazard: freeText({
    label: 'The hazard',
    example: 'glass in the jar',
    hint: 'What in the jar can hurt somebody; shown on the jars’ pages and the notice',
  }),
  whoMayBeHurt: freeText({
    label: 'Who may be hurt',
    example: 'anybody who eats it, small children above all',
    hint: 'If in doubt, ask the authority or a physician',
  }),
  whatToDo: freeText({
    label: 'What to do with the jars',
    example: 'set them apart, count them, keep them until we fetch them',
    hint: 'Shown on the jars’ pages and the notice',
  }),
} satisfies Fields;

/** Why the notes of a recall are refused (one is too long); undefined where they are valid. */
export function recallNotesFault(notes: RecallNotes): Refusal | undefined {
  for (const [field, text] of Object.entries(notes)) {
    const tooLong = reasonTooLong(String(text));
    if (tooLong) return invalid(field, tooLong.expected, tooLong.got);
  }
  return undefined;
}

/** The notes as stored in the entry: only the non-blank ones. */
export function formatRecallNotes(notes: RecallNotes): Readonly<Record<string, string>> | undefined {
  const written = Object.entries(notes).flatMap(([name, text]): [string, string][] => {
    const trimmed = String(text).trim();
    return trimmed === '' ? [] : [[name, trimmed]];
  });
  return written.length > 0 ? Object.fromEntries(written) : undefined;
}
