import { type JarSelection, jarsByCodes, jarsByNumbers } from '#libs/actions/jars/jar-selection.js';
import { type BoxFault, faultyField, parsedField, type ParsedField } from '#libs/actions/record/parsed-field.js';
import { allTexts, firstText, type Posted } from './posted.js';
import { jarsInSpans, type NamedJars } from '#libs/syrup/jars/jar-spans.js';
import { codesBox } from './jar-numbers.js';
import { postedSpans } from './posted-spans.js';

/**
 * Jars that leave: their codes, one per line, or their numbers. Undefined where neither is filled: then they are given
 * as a count, or come from a form of an earlier version, with codes in the box for the count.
 */
export function postedJars(name: string, posted: Posted): ParsedField<JarSelection> | undefined {
  const codes = allTexts(posted[codesBox(name)])
    .flatMap((typed) => typed.split(/[\s;,]+/))
    .filter(Boolean);
  const spans = postedSpans(name, posted);
  const [count, typedCodes] = [firstText(posted[name]), codes.join(';')];
  if (codes.length === 0 && !spans) return undefined;
  if (count !== '' && count !== String(namedCount(codes, spans?.result.value)))
    return faultyField([count, typedCodes].join(';'), [oneOfThreeFault(name, 'How many', count)]);
  if (spans && codes.length > 0)
    return faultyField(`${typedCodes};${spans.typed}`, [oneOfThreeFault(codesBox(name), 'Jar codes', typedCodes)]);
  if (spans?.result.faults) return faultyField(spans.typed, spans.result.faults);
  if (spans?.result.value) return parsedField(`jars ${spans.typed}`, jarsByNumbers(spans.result.value));
  const { value, mismatch } = jarsByCodes(codes);
  return value
    ? parsedField(typedCodes, value)
    : faultyField(typedCodes, [{ ...mismatch, box: { name: codesBox(name), label: 'Jar codes' } }]);
}

const oneOfThreeFault = (name: string, label: string, typed: string): BoxFault => ({
  expected: 'how many, or their codes, or their numbers: one of the three',
  got: `"${typed}"`,
  box: { name, label },
});

/** How many jars the codes or the numbers name: the same number in the box for the count contradicts nothing. */
const namedCount = (codes: readonly string[], numbers: NamedJars | undefined): number | undefined =>
  codes.length === 0 ? numbers && jarsInSpans(numbers.spans) : numbers ? undefined : new Set(codes).size;
