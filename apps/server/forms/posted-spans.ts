import { type BoxFault, faultyField, parsedField, type ParsedField } from '#libs/actions/record/parsed-field.js';
import { parseJarSpans } from '#libs/syrup/quantities/jar-spans.js';
import type { SpanRow } from '#pages/parts/field-view.js';
import { all, type Posted } from './field-view.js';
import { spanBox, spanRows } from './span-rows.js';

/** Jars out of their boxes, a first and a last number each; undefined where none was filled. */
export function postedSpans(name: string, posted: Posted): ParsedField | undefined {
  const filled = spanRows(name, posted).filter(({ from, to }) => from !== '' || to !== '');
  if (filled.length === 0) return undefined;
  const typed = filled.map(({ from, to }) => (to === '' || to === from ? from : `${from}-${to}`)).join(' and ');
  const faults = filled.flatMap((row) => rowFaults(name, row));
  if (faults.length > 0) return faultyField(typed, faults);
  const { value, mismatch } = parseJarSpans(typed);
  return value ? parsedField(typed, value) : faultyField(typed, [mismatch]);
}

/** Of a box for a count or codes with two more for a first and a last number: all that was filled, in one text. */
export function withJarNumbers(name: string, posted: Posted): Posted {
  const { typed } = postedSpans(name, posted) ?? {};
  if (typed === undefined) return posted;
  return { ...posted, [name]: [...all(posted[name]), `jars ${typed}`].join(';') };
}

const isJar = (text: string): boolean => /^[1-9]\d{0,5}$/.test(text);

function rowFaults(name: string, { n, from, to }: SpanRow): BoxFault[] {
  const fault = (end: 'from' | 'to', expected: string, got: string): BoxFault => ({
    expected,
    got: got === '' ? 'nothing' : `"${got}"`,
    box: { name: spanBox(name, n, end), label: end === 'from' ? 'First jar' : 'Last jar' },
  });
  if (!isJar(from)) return [fault('from', 'the number of the first jar, like 9', from)];
  if (to !== '' && !isJar(to)) return [fault('to', 'the number of the last jar, like 16', to)];
  return to !== '' && Number(to) < Number(from) ? [fault('to', `${from} or a higher number`, to)] : [];
}
