/** A kind of nut: its names on a label in English and French, and the pattern that finds it in an answer. */
interface NutKind {
  readonly en: string;
  readonly fr: string;
  readonly pattern: RegExp;
}

/**
 * Tree nuts by kind as Canada lists them (FDR B.01.010.1(1)); the French names are from memory of its French text.
 * United States labels name the nut as well (21 U.S.C. 343(w)(2)). Plain "walnuts" are « noix » in that text.
 */
export const nutKinds: readonly NutKind[] = [
  { en: 'almonds', fr: 'amandes', pattern: /\b(?:almonds?|amandes?)\b/iu },
  { en: 'Brazil nuts', fr: 'noix du Brésil', pattern: /\b(?:brazil nuts?|noix du br[eé]sil)\b/iu },
  { en: 'cashews', fr: 'noix de cajou', pattern: /\b(?:cashews?(?: nuts?)?|(?:noix de )?cajou)\b/iu },
  { en: 'hazelnuts', fr: 'noisettes', pattern: /\b(?:hazelnuts?|filberts?|noisettes?|avelines?)\b/iu },
  { en: 'macadamia nuts', fr: 'noix de macadamia', pattern: /\b(?:noix de )?macadamias?(?: nuts?)?\b/iu },
  { en: 'pecans', fr: 'pacanes', pattern: /\b(?:pecans?|pacanes?|noix de p[eé]can)\b/iu },
  { en: 'pine nuts', fr: 'pignons', pattern: /\b(?:pine nuts?|pignons?(?: de pin)?)\b/iu },
  { en: 'pistachios', fr: 'pistaches', pattern: /\b(?:pistachios?|pistaches?)\b/iu },
  { en: 'walnuts', fr: 'noix de Grenoble', pattern: /\b(?:walnuts?|noix de grenoble|cerneaux)\b/iu },
];

/** Finds the kinds of nut that an answer names, in the order of the list; none where it names only "nuts". */
export const findNuts = (answer: string): readonly NutKind[] => nutKinds.filter(({ pattern }) => pattern.test(answer));
