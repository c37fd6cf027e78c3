import type { DensityFacts } from '../rules/density-limits.js';
import { judgeDensity } from '../rules/judge-density.js';
import type { PlaceRules } from '../labelling/places.js';

/** States of a returned jar’s seal, in increasing severity. */
export const sealAnswers = ['held', 'was-loose', 'gone', 'bulging', 'spurting'] as const;
export const smellAnswers = ['sound', 'fermented-or-sour', 'off'] as const;

/** A returned jar as inspected, by the answers above. Other values (free text of older books) are not judged. */
export interface ReturnedJar {
  readonly seal?: string | undefined;
  readonly mould?: string | undefined;
  readonly came?: string | undefined;
  readonly smell?: string | undefined;
  readonly density?: DensityFacts | undefined;
}

/** What one observation about a returned jar means, and what to do. */
export interface Consequence {
  readonly about: 'seal' | 'mould' | 'smell' | 'density';
  readonly found: string;
  readonly text: string;
  readonly source: string;
  /** What its lot needs. The names of these fields are stored with complaints, so they are never renamed. */
  readonly asks: 'destroy' | 'hold' | 'nothing';
}

/** `brix` is true °Bx at 20 °C; null without a usable reading. */
export interface ReturnedJarJudged {
  readonly asks: Consequence['asks'];
  readonly consequences: readonly Consequence[];
  readonly brix: number | null;
  readonly brixUncertainty: number | null;
}

/** The consequences of a jar’s mould, seal, smell and density; `asks` is the most severe of theirs. */
export function judgeReturnedJar(jar: ReturnedJar, place: PlaceRules): ReturnedJarJudged {
  const density = jar.density && judgeDensity(jar.density, place);
  const consequences = [
    ...(jar.mould === 'yes' ? [jar.came === 'opened-warm' ? mouldAfterOpening : mouldy] : []),
    ...(bySeal[jar.seal ?? ''] ?? []),
    ...(bySmell[jar.smell ?? ''] ?? []),
    ...(density?.findings ?? []).flatMap((finding): Consequence[] => [
      {
        about: 'density',
        found: finding.found,
        text: `Limit: ${finding.limit}. ${densityText[finding.rule] ?? ''}`.trim(),
        source: finding.source,
        asks: thinRules.includes(finding.rule) ? 'hold' : 'nothing',
      },
    ]),
  ];
  const asks = (['destroy', 'hold'] as const).find((grave) => consequences.some((each) => each.asks === grave));
  return {
    asks: asks ?? 'nothing',
    consequences,
    brix: density?.brix ?? null,
    brixUncertainty: density?.brixUncertainty ?? null,
  };
}

const canning = 'USDA Agriculture Information Bulletin 539 (read in the source, 2026)';
const practice = 'common practice, no source';

const mouldy: Consequence = {
  about: 'mould',
  found: 'mould',
  text: 'Destroy the jar. The lot is held until other jars of it are inspected and counted. Mouldy syrup is destroyed, never boiled again, and never tasted.',
  source: 'University of Maine Cooperative Extension (read)',
  asks: 'destroy',
};

const mouldAfterOpening: Consequence = {
  about: 'mould',
  found: 'mould in a jar that was opened and kept warm',
  text: 'It may have grown after opening: keep opened syrup cold. Throw this syrup out; don’t boil it again and don’t taste it.',
  source: practice,
  asks: 'nothing',
};

const bySeal: Readonly<Record<string, readonly Consequence[]>> = {
  'was-loose': [
    {
      about: 'seal',
      found: 'the lid was loose',
      text: 'Air got in. Hold the lot until the lids of its jars on the shelf are checked: drawn down, not flexing.',
      source: canning,
      asks: 'hold',
    },
  ],
  gone: [
    {
      about: 'seal',
      found: 'the seal is gone',
      text: 'The jar was open to the air. Hold the lot until the lids of its jars on the shelf are checked.',
      source: canning,
      asks: 'hold',
    },
  ],
  bulging: [
    {
      about: 'seal',
      found: 'the lid or the jar bulges',
      text: 'Something in it makes gas. Don’t open it, don’t taste it; set it apart in a bag. Hold the lot.',
      source: canning,
      asks: 'hold',
    },
  ],
  spurting: [
    {
      about: 'seal',
      found: 'it spurted when it was opened',
      text: 'Something in it made gas. Don’t taste it; wash what it touched. Hold the lot.',
      source: canning,
      asks: 'hold',
    },
  ],
};

const bySmell: Readonly<Record<string, readonly Consequence[]>> = {
  'fermented-or-sour': [
    {
      about: 'smell',
      found: 'it smells fermented or sour',
      text: 'Syrup that is too thin ferments, and so does syrup whose seal failed. Don’t taste it. Hold the lot.',
      source: 'O. Reg. 119/11 guidance; UVM Extension (read)',
      asks: 'hold',
    },
  ],
  off: [
    {
      about: 'smell',
      found: 'it smells off',
      text: 'Compare it with the retained sample: if that smells the same, the whole lot is affected, not this jar alone.',
      source: practice,
      asks: 'nothing',
    },
  ],
};

/** Density findings that may concern the whole lot. */
const thinRules = ['density-too-thin', 'density-measure-again', 'hydrometer-temperature'];

const densityText: Readonly<Record<string, string>> = {
  'density-too-thin': 'Syrup that is too thin moulds and ferments. Hold the lot and read the retained sample.',
  'density-measure-again': 'Read it again, and the retained sample. Hold the lot until a second reading passes.',
  'density-not-read': 'This reading can’t be used: read it again.',
  'hydrometer-temperature':
    'Look at what temperature is printed on the hydrometer and record it with this reading. Hold the lot until then.',
};
