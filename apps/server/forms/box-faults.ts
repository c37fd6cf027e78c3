import type { Fault } from '#libs/actions/record/problem.js';
import type { BoxFault, FieldView } from '#pages/parts/field-view.js';
import type { Posted } from './field-view.js';
import { filledPortions } from './posted-portions.js';
import { filledRows, rowBox } from './reading-rows.js';

/** A field that has several boxes: each fault is shown at its own box. */
export function withBoxFaults(
  view: FieldView,
  posted: Posted | undefined = {},
  allFaults: readonly Fault[],
): FieldView {
  const faults = allFaults.filter((each) => each.field === view.name);
  const boxFaults = faults.flatMap((fault) => boxFault(view, posted, fault));
  if (boxFaults.length === 0) return view;
  const fault = boxFaults.length === 1 ? 'Check the marked box' : `Check the ${boxFaults.length} marked boxes`;
  return { ...view, boxFaults, fault };
}

function boxFault({ name, label, control }: FieldView, posted: Posted, fault: Fault): BoxFault[] {
  const { expected, got, item } = fault;
  if (fault.box) return [{ box: fault.box.name, label: fault.box.label, text: faultText(fault) }];
  if (control === 'readings') {
    // Each box can be parsed, so the fault is in the reading's time.
    const row = item === undefined ? undefined : filledRows(name, posted)[item];
    return row
      ? [{ box: rowBox(name, row.n, 'clock'), label: `Reading ${row.n}, time`, text: `Enter ${expected}` }]
      : [];
  }
  if (control !== 'portions') return [];
  // A form may have two lists of lots, so the fault is headed by its list.
  const lotLabel = `${label}, lot`;
  if (got === 'nothing') return [{ box: `${name}~more`, label: lotLabel, text: 'Tick a lot, or enter its code' }];
  const portion = item === undefined ? undefined : filledPortions(name, posted)[item];
  const box = portion?.lotBox.name ?? `${name}~more`;
  return [{ box, label: lotLabel, text: `Enter ${expected} (typed: ${got})` }];
}

/** `Enter a time like 14:10, not “25:70”` */
function faultText({ expected, got }: Fault): string {
  const typed = /^"(.+)"$/su.exec(got)?.[1];
  return typed === undefined || expected.includes('at most')
    ? `Enter ${expected}`
    : `Enter ${expected}, not “${typed}”`;
}
