/**
 * Parses containers as people name them: `half pint`, `8 oz mason jar`, `quart`, `glass jar 12 oz`. The ounce of a
 * container of syrup is the fluid ounce, for syrup is sold by volume (common practice, no source). Undefined for any
 * other form.
 */
export function parseNamedContainer(typed: string): { readonly kind: string; readonly volume: string } | undefined {
  if (/[\r\n\u2028\u2029]/u.test(typed)) return undefined;
  const text = typed.trim().replace(/(?<![\d.,/])(?:1\/2|½)\s*/u, 'half ');
  return ouncesLast(text) ?? amountFirst(text) ?? byName(text);
}

/** `glass jar 12 oz` */
function ouncesLast(text: string) {
  const found = /^(\S.*?\S|\S)[\s,]+(\d{1,6}(?:[.,]\d{1,6})?)\s*oz\.?$/iu.exec(text);
  return found && !/[\d.,/]$/u.test(found[1] ?? '') ? { kind: found[1] ?? '', volume: `${found[2]} fl oz` } : undefined;
}

/** `8 oz mason jar`, `500 mL glass bottle` */
function amountFirst(text: string) {
  const found =
    /^(\d{1,6}(?:[.,]\d{1,6})?)[\s-]*((?:(?:us|imp)\s+)?(?:fl\.?\s*oz|oz|pints?|pt|quarts?|qt|gallons?|gal|ml|litres?|liters?|l))\.?[\s,-]+(\p{L}[^\d]*)$/iu.exec(
      text,
    );
  return found ? { kind: (found[3] ?? '').trim(), volume: `${found[1]} ${unitOf(found[2] ?? '')}` } : undefined;
}

const unitOf = (unit: string): string => (/^oz$/iu.test(unit) ? 'fl oz' : unit);

/** `half pint`, `quart jug`, `mason jar, pint`: a size name without any digit. */
function byName(text: string) {
  if (/\d/u.test(text)) return undefined;
  const named = sizes.find(([name]) => name.test(text));
  if (!named) return undefined;
  const kind = text
    .replace(named[0], ' ')
    .replace(/[\s,-]+/gu, ' ')
    .trim();
  // Two sizes are ambiguous.
  return sizes.some(([name]) => name.test(kind)) ? undefined : { kind, volume: named[1] };
}

const sizes: readonly (readonly [RegExp, string])[] = [
  [/\bquarter[\s-]pints?\b/iu, '4 fl oz'],
  [/\bhalf[\s-]pints?\b/iu, '8 fl oz'],
  [/\bhalf[\s-]gallons?\b/iu, '0.5 gal'],
  [/\bpints?\b/iu, '1 pt'],
  [/\bquarts?\b/iu, '1 qt'],
  [/\bgallons?\b/iu, '1 gal'],
];
