/** A nut or shellfish as a label names it, found by the words of both languages in an answer. */
interface NamedKind {
  readonly en: string;
  readonly fr: string;
  readonly answered: RegExp;
}

/**
 * Tree nuts by kind as Canada lists them (FDR B.01.010.1(1)); the French names are from memory of its French text.
 * United States labels name the nut as well (21 U.S.C. 343(w)(2)). Plain "walnuts" are « noix » in that text.
 */
export const nutKinds: readonly NamedKind[] = [
  { en: 'almonds', fr: 'amandes', answered: /\b(?:almonds?|amandes?)\b/iu },
  { en: 'Brazil nuts', fr: 'noix du Brésil', answered: /\b(?:brazil nuts?|noix du br[eé]sil)\b/iu },
  { en: 'cashews', fr: 'noix de cajou', answered: /\b(?:cashews?(?: nuts?)?|(?:noix de )?cajou)\b/iu },
  { en: 'hazelnuts', fr: 'noisettes', answered: /\b(?:hazelnuts?|filberts?|noisettes?|avelines?)\b/iu },
  { en: 'macadamia nuts', fr: 'noix de macadamia', answered: /\b(?:noix de )?macadamias?(?: nuts?)?\b/iu },
  { en: 'pecans', fr: 'pacanes', answered: /\b(?:pecans?|pacanes?|noix de p[eé]can)\b/iu },
  { en: 'pine nuts', fr: 'pignons', answered: /\b(?:pine nuts?|pignons?(?: de pin)?)\b/iu },
  { en: 'pistachios', fr: 'pistaches', answered: /\b(?:pistachios?|pistaches?)\b/iu },
  { en: 'walnuts', fr: 'noix de Grenoble', answered: /\b(?:walnuts?|noix de grenoble|cerneaux)\b/iu },
];

/** The nuts that an answer names, in the order of the list; empty where it says only "nuts". */
export const nutsNamed = (answer: string): readonly NamedKind[] =>
  nutKinds.filter(({ answered }) => answered.test(answer));
