import type { SugarhouseContext } from '#libs/actions/record/write-context.js';
import type { Fields } from '#libs/actions/record/fields.js';
import { type Fault, fieldText, type Problem, sentencesOf } from '#libs/actions/record/problem.js';
import type { FormGroup } from '#pages/parts/field-group.js';
import type { ProblemView } from '#pages/parts/summary.js';
import { problemStatus } from '../http/problem-details.js';
import { sugarhouseContextFor, type Principal } from '../http/principal.js';
import { withBoxNames } from '../text/box-names.js';
import { clock } from '../text/times.js';
import { withBoxFaults } from './box-faults.js';
import { fieldViews, formatExpected, type FieldOptions, type Posted } from './field-view.js';
import type { Measures } from './units.js';

/** What a form needs to know of its book. */
export interface FormContext extends SugarhouseContext {
  readonly measures: Measures;
}

/** The house's context for a form, with its units: °F and gallons before a house is set up. */
export async function formContext(principal: Principal): Promise<FormContext> {
  const houseContext = await sugarhouseContextFor(principal);
  return {
    ...houseContext,
    measures: {
      temperatures: houseContext.house?.temperatures ?? 'F',
      volumes: houseContext.house?.volumes ?? 'gal',
      canada: houseContext.place.canada,
    },
  };
}

/** `same`: fill in what was picked last time. */
export interface SubmittedForm {
  readonly same?: boolean;
  readonly posted?: Posted | undefined;
  readonly problem?: Problem | undefined;
}

export interface GroupOptions extends Pick<
  FormGroup,
  'legend' | 'text' | 'folded' | 'foldsFilled' | 'opened' | 'decided'
> {
  readonly names: readonly string[];
}

/** A record's fields as the groups of a form. Names that the kind doesn't have are skipped. */
export function formGroups(
  fields: Fields,
  groups: readonly GroupOptions[],
  { measures }: FormContext,
  { posted, problem }: SubmittedForm,
  options: Omit<FieldOptions, 'measures' | 'posted' | 'faults' | 'names'> = {},
): FormGroup[] {
  const faults = faultsOf(problem);
  return groups
    .map(({ names, ...text }) => ({
      ...text,
      fields: fieldViews(fields, { ...options, measures, posted, faults, names }).map((view) =>
        withBoxFaults(view, posted, faults),
      ),
    }))
    .filter((group) => group.fields.length > 0);
}

/**
 * The groups of a form, with the fields that none of them names added to the last, so that a new field of a kind
 * appears without an edit here. @param leftOut fields that this form must not show: another form asks for them
 */
export function withRemainingFields(
  fields: Fields,
  groups: readonly GroupOptions[],
  leftOut: readonly string[] = [],
): GroupOptions[] {
  const placed = new Set([...groups.flatMap(({ names }) => names), ...leftOut]);
  const remaining = Object.keys(fields).filter((name) => !placed.has(name));
  return groups.map((group, n) =>
    n === groups.length - 1 ? { ...group, names: [...group.names, ...remaining] } : group,
  );
}

/** The error summary: a line for each fault with a link to its field, in the form's wording. */
export function problemView(problem: Problem | undefined, fields: Fields = {}): ProblemView | undefined {
  if (!problem) return undefined;
  const faults = faultsOf(problem);
  const lines = faults.map((fault) =>
    fault.field === 'photo' && !fields['photo']
      ? { text: `Photo: choose ${fault.expected}, not ${fault.got}`, field: 'photo-taken' }
      : {
          text: `${fields[fault.field]?.label ?? fieldText(fault.field)}: ${formatExpected(fault)}`,
          ...(fields[fault.field] ? { field: fault.field } : {}),
        },
  );
  const title =
    problem.kind === 'invalid'
      ? 'Not saved: check the fields below'
      : problem.kind === 'changed-since'
        ? 'Not saved: somebody else wrote in the meantime'
        : problem.kind === 'key-used'
          ? 'Not saved yet: this page saved other values before'
          : 'Not saved: a rule forbids it';
  return {
    title,
    clock: problem.kind === 'refused' && problem.rule === 'clock',
    lines: problem.kind === 'invalid' ? lines : [...sentencesFor(problem).map((text) => ({ text })), ...lines],
  };
}

/**
 * The other person's entry is shown under the summary, so nobody has to open another page to read it. A form sent twice,
 * on a slow line, may hold a second reading.
 */
const sentencesFor = (problem: Problem): string[] =>
  problem.kind === 'changed-since'
    ? [
        `${problem.by} wrote about ${problem.lot} at ${clock(problem.at)}, after you opened this page. Their entry is shown below. Yours is not saved yet: if it is still right, save it again.`,
      ]
    : problem.kind === 'key-used'
      ? [
          `${problem.by} saved entry ${problem.entry} from this page at ${clock(problem.at)}, with other values than these. To record these as well, save again; to change that entry, correct it.`,
        ]
      : sentencesOf(problem).map(withBoxNames);

/** The HTTP status of a form's page: 200, or that of the problem it shows. */
export const statusFor = (problem: Problem | undefined): number => (problem ? problemStatus(problem) : 200);

const faultsOf = (problem: Problem | undefined): readonly Fault[] =>
  problem && 'faults' in problem ? (problem.faults ?? []) : [];
