/**
 * The four colour classes by percent light transmittance at 560 nm, 10 mm cells, glycerol = 100 %
 * (read: 1 NYCRR 270.1; 7 M.R.S. §892-A; Canadian Grade Compendium vol. 7).
 */
export type ColourClass = 'Golden' | 'Amber' | 'Dark' | 'Very Dark';

export type GradeLanguage = 'US' | 'CA-en' | 'CA-fr';

export const colourSource =
  'percent transmittance at 560 nm, 10 mm cells, glycerol 100 %: 1 NYCRR 270.1; 7 M.R.S. §892-A; Canadian Grade Compendium vol. 7';

/** Lightest first; each class includes its lower edge. */
export const colourEdges: readonly { readonly atLeastPercent: number; readonly colour: ColourClass }[] = [
  { atLeastPercent: 75, colour: 'Golden' },
  { atLeastPercent: 50, colour: 'Amber' },
  { atLeastPercent: 25, colour: 'Dark' },
  { atLeastPercent: 0, colour: 'Very Dark' },
];

/** The colour class of a transmittance at 560 nm, in percent. */
export function colourClassOf(transmittancePercent: number): ColourClass {
  return colourEdges.find((edge) => transmittancePercent >= edge.atLeastPercent)?.colour ?? 'Very Dark';
}

/** The grade as the label says it, such as `Grade A Amber Color and Rich Taste`. */
export function gradeText(colour: ColourClass, language: GradeLanguage): string {
  return gradeNames[colour][language];
}

/**
 * Parses a class as people write it: `amber`, `Grade A Amber Color and Rich Taste`, `Ambré, goût riche`, `golden,
 * delicate`, or `processing`. Undefined when the text names no class.
 */
export function parseColourClass(text: string): ColourClass | 'processing' | undefined {
  const label = plain(text);
  return spellings.find(([pattern]) => pattern.test(label))?.[1];
}

/** US form: US Standards for Grades of Maple Syrup, 2015. Canadian forms: Canadian Grade Compendium vol. 7. */
const gradeNames: Readonly<Record<ColourClass, Readonly<Record<GradeLanguage, string>>>> = {
  Golden: {
    US: 'Grade A Golden Color and Delicate Taste',
    'CA-en': 'Canada Grade A Golden, Delicate Taste',
    'CA-fr': 'Canada Catégorie A Doré, goût délicat',
  },
  Amber: {
    US: 'Grade A Amber Color and Rich Taste',
    'CA-en': 'Canada Grade A Amber, Rich Taste',
    'CA-fr': 'Canada Catégorie A Ambré, goût riche',
  },
  Dark: {
    US: 'Grade A Dark Color and Robust Taste',
    'CA-en': 'Canada Grade A Dark, Robust Taste',
    'CA-fr': 'Canada Catégorie A Foncé, goût robuste',
  },
  'Very Dark': {
    US: 'Grade A Very Dark Color and Strong Taste',
    'CA-en': 'Canada Grade A Very Dark, Strong Taste',
    'CA-fr': 'Canada Catégorie A Très foncé, goût prononcé',
  },
};

/** A class must begin the text, after `Grade A` or the like: `not amber` is no class. Very Dark comes before Dark. */
const opening = String.raw`^(canada )?((grade|categorie) a )?`;
const spellings: readonly (readonly [RegExp, ColourClass | 'processing'])[] = [
  [/^((canada )?(grade )?processing( grade)?|(canada )?(categorie )?transformation)\b/, 'processing'],
  [new RegExp(`${opening}(very dark|tres fonce)\\b`), 'Very Dark'],
  [new RegExp(`${opening}(dark|fonce)\\b`), 'Dark'],
  [new RegExp(`${opening}(amber|ambre)\\b`), 'Amber'],
  [new RegExp(`${opening}(golden|gold|dore)\\b`), 'Golden'],
];

function plain(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z]+/g, ' ')
    .trim();
}
