import type { BoxAttributes, FieldView } from './field-view.js';
import type { ProblemView } from './summary.js';

type Faulty = Pick<FieldView, 'boxFaults'>;

const faultOf = ({ boxFaults = [] }: Faulty, box: string) => boxFaults.find((each) => each.box === box);

/** What one box of several carries so that its fault leads to it and is read out with it. */
export function boxAttributes(field: Faulty, box: string): BoxAttributes {
  const id = `f-${box}`;
  const isWrong = faultOf(field, box) !== undefined;
  return {
    id,
    'aria-describedby': isWrong ? `${id}-fault` : undefined,
    'aria-invalid': isWrong ? 'true' : undefined,
  };
}

/** What is wrong with one box of several, beside it. */
export const BoxFault = ({ field, box }: { readonly field: Faulty; readonly box: string }) => {
  const fault = faultOf(field, box);
  return fault ? (
    <span class="fault" id={`f-${box}-fault`}>
      {fault.text}
    </span>
  ) : null;
};

/** The error summary with a line for each wrong box instead of one for their field: it leads to the box itself. */
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
