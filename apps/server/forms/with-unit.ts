/** `186` beside °F is `186 F`; `85.5 C` beside °F stays as it was typed. */
export function withUnit(typed: string, unit: string): string {
  if (unit === '' || !/^[+\-−]?[\d.,\s]+$/u.test(typed)) return typed;
  const [symbol, system] = [unit.split(' ').at(-1) ?? '', unit.split(' ').slice(0, -1).join(' ')];
  return system === '' ? `${typed} ${symbol}` : `${typed} ${system} ${symbol}`;
}

/** For lines: one that begins with a bare number, such as `186@10:10`, gets the unit chosen beside the box. */
export const linesWithUnit = (typed: string, unit: string): string =>
  typed
    .split(/[\r\n;]+/)
    .map((line) => line.trim())
    .filter(Boolean)
    .map((line) => line.replace(/^[\d.,]+(?=\s*(?:$|[@#]|jars?\b|trays?\b))/iu, (number) => withUnit(number, unit)))
    .join(';');
