/** The content of a jar's label, before layout. */
export interface LabelContent {
  /** A practice book's labels have PRACTICE across them and are not for jars that are sold. */
  readonly practice: boolean;
  /** Statement of identity, `Maple syrup`. */
  readonly product: string;
  readonly productFr?: string | undefined;
  /** The grade exactly as the place words it; null where none was judged or the maker may not use one. */
  readonly gradeText: string | null;
  readonly gradeTextFr?: string | undefined;
  /** Why a judged colour is not printed as a grade. */
  readonly gradeLeftOut?: string | undefined;
  readonly container: {
    readonly typed: string;
    readonly millilitres: number;
    readonly unit: string;
    readonly amount: number;
  };
  readonly country: 'US' | 'CA';
  readonly lot: string;
  /** ISO date; printed as `Packed 19 Mar 2026`, which nobody takes for an expiry date. */
  readonly packedOn: string;
  readonly maker: { readonly name: string; readonly lines: readonly string[]; readonly phone?: string | undefined };
  /** Allergens of a defoamer; null where the boil's record doesn't answer. */
  readonly allergens: readonly string[] | null;
  /** Whether a boil of the syrup names no defoamer and doesn't say “none” either. */
  readonly isDefoamerUnrecorded?: boolean;
  /** The maker's own text; never calculated by the program. */
  readonly bestBefore?: string | undefined;
  /** Further texts that the pack's fields declare for the label, as `Label: text`; omitted where there is no room. */
  readonly furtherTexts?: readonly FurtherText[] | undefined;
  /** Further texts that they declare for the jar's public page. */
  readonly publicTexts?: readonly FurtherText[] | undefined;
  readonly keep: string;
  readonly keepFr?: string | undefined;
  readonly bilingual: boolean;
  /** The principal display panel as measured on the container. */
  readonly panel?: Panel | undefined;
}

/** A further field of the pack, as it is printed. */
export interface FurtherText {
  readonly label: string;
  readonly text: string;
}

export type Panel =
  | { readonly heightMm: number; readonly diameterMm: number; readonly areaMm2?: never }
  | { readonly areaMm2: number; readonly heightMm?: never; readonly diameterMm?: never };

/** Jar `n` of the pack has the same number and code however often its label is printed. */
export interface LabelJar {
  readonly n: number;
  /** Eight characters without the dash. */
  readonly code: string;
}

export type Jars = Iterable<LabelJar> | AsyncIterable<LabelJar>;

/** Printer resolutions to whose dots modules are aligned. */
export const printerDpis = [203, 300, 600] as const;
export type PrinterDpi = (typeof printerDpis)[number];

/** Our own designs, as named on the form. */
export const designLabels = {
  ledger: 'Ledger: name at the left, QR code in the corner',
  lamp: 'Lamp: name in white on a dark bar',
  market: 'Market: QR code first, then the product, with the maker below',
  tall: 'Tall jar: upright in a frame, QR code in the middle',
  squat: 'Squat jar: in a frame, your drawing at the left, QR code at the right',
  jug: 'Jug: product large at the top, the rest in two columns',
  tin: 'Tin: your name on a band, the product large below it',
  lid: 'Lid: round or oval, with text in a ring',
} as const;
export type DesignName = keyof typeof designLabels;

/** Why labels were not printed; each becomes a sentence that tells the maker what to do. */
export type LabelProblem =
  | {
      readonly kind: 'does-not-fit';
      readonly stock: string;
      readonly unfit: readonly Unfit[];
      readonly fitsOn: readonly string[];
    }
  | { readonly kind: 'cannot-draw'; readonly undrawable: readonly Undrawable[] }
  | { readonly kind: 'no-jars' }
  | { readonly kind: 'bad-stock'; readonly stock: string; readonly faults: readonly string[] }
  | { readonly kind: 'bad-setting'; readonly field: string; readonly expected: string; readonly got: string };

export interface Unfit {
  readonly item: string;
  readonly because: string;
}

export interface Undrawable {
  readonly field: string;
  readonly characters: readonly string[];
}

/** Why labels can't be made, one sentence for each problem. */
export function labelProblemSentences(problem: LabelProblem): string[] {
  switch (problem.kind) {
    case 'does-not-fit':
      return [
        ...problem.unfit.map(({ item, because }) => `${item} does not fit on ${problem.stock}: ${because}`),
        problem.fitsOn.length > 0
          ? `It fits on ${problem.fitsOn.join(', ')}`
          : 'It fits on no label stock of this book',
      ];
    case 'cannot-draw':
      return problem.undrawable.map(
        ({ field, characters }) => `${field}: the typeface has no ${characters.join(' ')}: spell it in Latin letters`,
      );
    case 'no-jars':
      return ['There are no jars to print labels for'];
    case 'bad-stock':
      return problem.faults.map((fault) => `Stock ${problem.stock}: ${fault}`);
    case 'bad-setting':
      return [`${problem.field}: expected ${problem.expected}, got "${problem.got}"`];
  }
}
