import { type BoxFault, faultyField, parsedField, type ParsedField } from '#libs/actions/record/parsed-field.js';
import { mergeSpans, type NamedJars } from '#libs/syrup/jars/jar-spans.js';
import type { SpanRow } from '#pages/parts/field-view.js';
import type { Posted } from './field-view.js';
import { boxLabels, jarNumbersFault, jarNumbersText } from './jar-numbers.js';
import { spanBox, spanRows } from './span-rows.js';

/** Ranges of jars from their boxes, a first and a last number each; undefined where none was filled. */
export function postedSpans(name: string, posted: Posted): ParsedField<NamedJars> | undefined {
  const filled = spanRows(name, posted).filter(({ from, to }) => from !== '' || to !== '');
  if (filled.length === 0) return undefined;
  const typed = filled.map(jarNumbersText).join(' and ');
  const faults = filled.flatMap((row) => rowFaults(name, row));
  if (faults.length > 0) return faultyField(typed, faults);
  const spans = filled.map(({ from, to }) => ({ from: Number(from), to: Number(to || from) }));
  return parsedField(typed, { typed, spans: mergeSpans(spans), all: false });
}

function rowFaults(name: string, row: SpanRow): BoxFault[] {
  const fault = jarNumbersFault(row);
  if (!fault) return [];
  const { end, expected, got } = fault;
  return [{ expected, got, box: { name: spanBox(name, row.n, end), label: boxLabels[end] } }];
}
