import type { BoxAttributes, FieldView } from './field-view.js';
import type { ProblemView } from './summary.js';

type Faulty = Pick<FieldView, 'boxFaults'>;

const faultOf = ({ boxFaults = [] }: Faulty, box: string) => boxFaults.find((each) => each.box === box);

/** Attributes of one box of several, so that its fault links to it and is read out with it. */
export function boxAttributes(field: Faulty, box: string): BoxAttributes {
  const id = `f-${box}`;
  const isWrong = faultOf(field, box) !== undefined;
  return {
    id,
    'aria-describedby': isWrong ? `${id}-fault` : undefined,
    'aria-invalid': isWrong ? 'true' : undefined,
  };
}

/** The fault of one box of several, beside it. */
export const BoxFault = ({ field, box }: { readonly field: Faulty; readonly box: string }) => {
  const fault = faultOf(field, box);
  return fault ? (
    <span class="fault" id={`f-${box}-fault`}>
      {fault.text}
    </span>
  ) : null;
};

/** The error summary with a line and link for each wrong box instead of one for the whole field. */
export function withBoxLines(
  problem: ProblemView | undefined,
  groups: readonly { readonly fields: readonly FieldView[] }[],
): ProblemView | undefined {
  if (!problem) return undefined;
  const fields = new Map(groups.flatMap((group) => group.fields.map((field) => [field.name, field.boxFaults ?? []])));
  const linked = new Set<string>();
  const lines = problem.lines.flatMap((line) => {
    const boxes = line.field === undefined ? [] : (fields.get(line.field) ?? []);
    if (line.field === undefined || boxes.length === 0) return [line];
    if (linked.has(line.field)) return [];
    linked.add(line.field);
    return boxes.map(({ box, label, text }) => ({
      text: `${label}: ${text.charAt(0).toLowerCase()}${text.slice(1)}`,
      field: box,
    }));
  });
  return { ...problem, lines };
}
