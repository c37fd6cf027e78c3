/** One thing that could not be parsed: the field, what was expected, what arrived. */
export interface Fault {
  readonly field: string;
  readonly expected: string;
  readonly got: string;
  /** For a form field with several boxes: the wrong box, by its posted name and its label. */
  readonly box?: { readonly name: string; readonly label: string } | undefined;
  /** For a list: the index of the item, from 0. */
  readonly item?: number | undefined;
  /** For a file: its line, counted from 1 with the header, and the column heading. */
  readonly line?: number | undefined;
  readonly column?: string | undefined;
}

/** Why a request was refused. Nothing was written when one of these is returned. */
export type Problem =
  /** Input could not be parsed. */
  | {
      readonly kind: 'invalid';
      readonly faults: readonly Fault[];
      /** How many there are, where only the first are listed. */
      readonly inAll?: number;
    }
  /** There is no such lot, jar, entry or file. */
  | { readonly kind: 'unknown'; readonly what: string; readonly code: string }
  /** A rule forbids it; the sentence says which and why. */
  | { readonly kind: 'refused'; readonly rule: string; readonly sentence: string; readonly faults?: readonly Fault[] }
  /** The same key was used before for another request; `entry` where that wrote one entry. */
  | { readonly kind: 'key-used'; readonly entry?: number; readonly by: string; readonly at: string }
  /** Somebody else wrote about the lot since the writer last saw it. */
  | {
      readonly kind: 'changed-since';
      readonly lot: string;
      readonly entry: number;
      readonly by: string;
      readonly at: string;
    };

export interface Refusal {
  readonly problem: Problem;
}

/** Whether an answer is a refusal, and not what was asked for. */
export const isRefusal = (answer: unknown): answer is Refusal =>
  typeof answer === 'object' && answer !== null && 'problem' in answer;

/** The refusal of one field that could not be parsed. */
export const invalid = (field: string, expected: string, got: string): Refusal => ({
  problem: { kind: 'invalid', faults: [{ field, expected, got }] },
});
/** The refusal of a code or id that isn't in the book; `what` is the noun of the sentence. */
export const unknown = (what: string, code: string): Refusal => ({ problem: { kind: 'unknown', what, code } });
/** A refusal by a rule of the book; the sentence says which rule and why. */
export const refused = (rule: string, sentence: string): Refusal => ({ problem: { kind: 'refused', rule, sentence } });

/** The sentences to show: one for a rule, one for each fault. */
export function sentencesOf(problem: Problem): string[] {
  switch (problem.kind) {
    case 'invalid':
      return limitSentences(problem.faults.map(faultSentence), problem.inAll);
    case 'unknown':
      return [`There is no ${problem.what} ${problem.code}${problem.what === 'file' ? '' : ' in this book'}.`];
    case 'refused':
      return [problem.sentence, ...limitSentences((problem.faults ?? []).map(faultSentence))];
    case 'key-used':
      return [
        `This key was already used for other values: ${problem.entry === undefined ? '' : `entry ${problem.entry} `}by ${problem.by}, ${problem.at}. To save these too, send them with a new key.`,
      ];
    case 'changed-since':
      return [
        `${problem.by} wrote about ${problem.lot} in the meantime (entry ${problem.entry}, ${problem.at}). Read that entry, then send yours again if it is still right.`,
      ];
  }
}

/** Where every row of a file has a fault, the first hundred are enough to correct it and keep the response short. */
export const maxListed = 100;

/** The first hundred sentences, and how many more there are. */
export function limitSentences(sentences: readonly string[], inAll = sentences.length): string[] {
  const first = sentences.slice(0, maxListed);
  const more = Math.max(inAll, sentences.length) - first.length;
  return more > 0 ? [...first, `And ${more.toLocaleString('en-US')} more.`] : first;
}

/** Input may be as long as a file, so a message quotes only its beginning. */
export const shortenFault = (fault: Fault): Fault => ({
  ...fault,
  expected: truncate(fault.expected, 1000),
  got: truncate(fault.got, 300),
});
const truncate = (text: string, most: number): string => (text.length > most ? `${text.slice(0, most)} …` : text);

/** `Line 7, fill_temps: expected a temperature like 186 F, got "186"` */
export function faultSentence(fault: Fault): string {
  const place =
    fault.line === undefined ? fieldText(fault.field) : `Line ${fault.line}, ${fault.column ?? fault.field}`;
  const { expected, got } = shortenFault(fault);
  return `${place}: expected ${expected}, got ${got}`;
}

/** fillTemps → Fill temps, sap_volume → Sap volume */
export function fieldText(field: string): string {
  const text = field
    .replaceAll('_', ' ')
    .replace(/([a-z])([A-Z])/g, (_, end: string, start: string) => `${end} ${start.toLowerCase()}`);
  return text.charAt(0).toUpperCase() + text.slice(1);
}
