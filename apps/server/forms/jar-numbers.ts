/** A range of jar numbers as two boxes hold it: the first and the last, or the first alone. */
export interface JarNumbers {
  readonly from: string;
  readonly to: string;
}

/** Which of the two boxes is wrong, and what it should hold. */
export interface JarNumbersFault {
  readonly end: 'from' | 'to';
  readonly expected: string;
  readonly got: string;
}

/** The names of the two boxes in a sentence about them. */
export const boxLabels = { from: 'First jar', to: 'Last jar' } as const;

/** A jar is counted from 1 and has at most six digits. */
export const isJarNumber = (text: string): boolean => /^[1-9]\d{0,5}$/.test(text);

/** The fault of two boxes with a first and a last jar; undefined where both are valid. */
export function jarNumbersFault({ from, to }: JarNumbers): JarNumbersFault | undefined {
  const fault = (end: 'from' | 'to', expected: string, got: string): JarNumbersFault => ({
    end,
    expected,
    got: got === '' ? 'nothing' : `"${got}"`,
  });
  if (!isJarNumber(from)) return fault('from', 'the number of the first jar, like 9', from);
  if (to !== '' && !isJarNumber(to)) return fault('to', 'the number of the last jar, like 16', to);
  return to !== '' && Number(to) < Number(from) ? fault('to', `${from} or a higher number`, to) : undefined;
}

/** `9-16`, or `9` for a single jar: as the log stores it. */
export const jarNumbersText = ({ from, to }: JarNumbers): string => (to === '' || to === from ? from : `${from}-${to}`);

/** `jars 9-16`, or `jar 9`. */
export const namedJarNumbers = (numbers: JarNumbers): string => {
  const text = jarNumbersText(numbers);
  return `${text.includes('-') ? 'jars' : 'jar'} ${text}`;
};

/** The name of the box for jar codes in a posted form. */
export const codesBox = (name: string): string => `${name}~codes`;
