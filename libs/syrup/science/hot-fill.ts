import { sucroseDensity } from './sucrose.js';

export type JarMaterial = 'glass' | 'metal' | 'plastic';

export interface HotFill {
  readonly brix: number;
  readonly syrupCelsius: number;
  /** Volume as poured, hot. */
  readonly syrupMillilitres: number;
  readonly jarGrams: number;
  readonly jarCelsius: number;
  readonly material: JarMaterial;
  /** The limit in the jar when it is capped: 82.2 °C (180 °F), or 82 °C where readings are in °C. */
  readonly leastCelsius: number;
}

export interface HotFillAnswer {
  readonly mixedCelsius: number;
  /** Calculated with the heat capacity at the syrup’s own temperature: the upper bound. */
  readonly mixedAtMostCelsius: number;
  readonly passes: boolean;
  /** 0 °C where the hot jar alone is enough; far above boiling where no syrup is hot enough. */
  readonly syrupNeededCelsius: number;
  /** The coldest jar that is warm enough for this syrup; undefined when the syrup itself is too cold. */
  readonly coldestJarCelsius: number | undefined;
}

/**
 * The mixing temperature of syrup and jar: heat lost by one is gained by the other. Losses to the air and the lid are
 * ignored, so a real jar is a little colder: the reading in the jar is what counts.
 */
export function hotFill(fill: HotFill): HotFillAnswer {
  const ratio = jarShare(fill, syrupHeatCapacity(fill.brix, roomCelsius));
  const mix = (share: number): number => (fill.syrupCelsius + share * fill.jarCelsius) / (1 + share);
  const mixedCelsius = mix(ratio);
  const enough = fill.syrupCelsius >= fill.leastCelsius;
  return {
    mixedCelsius,
    mixedAtMostCelsius: mix(jarShare(fill, syrupHeatCapacity(fill.brix, fill.syrupCelsius))),
    passes: mixedCelsius >= fill.leastCelsius - 1e-9,
    syrupNeededCelsius: syrupNeeded(fill),
    coldestJarCelsius: enough ? fill.leastCelsius - (fill.syrupCelsius - fill.leastCelsius) / ratio : undefined,
  };
}

/**
 * J/(kg·K) of a sucrose solution, by °Bx and °C: 4184 − 2971w + 460w·purity + 7.5w·t, purity 1. The heat balance uses
 * room temperature, where it is least (2.63 kJ at 66.9 °Bx and 25 °C; 2.93 at 85 °C): an error then asks for hotter
 * syrup, never for colder.
 */
export const syrupHeatCapacity = (brix: number, celsius: number): number => {
  const w = brix / 100;
  return 4184 - 2971 * w + 460 * w + 7.5 * w * celsius;
};

const roomCelsius = 25;

/** J/(kg·K). Glass: 49 J/(mol·K) at 20 °C is 820; 840 over 20–85 °C. Steel and polyethylene from memory. */
export const jarHeatCapacity: Readonly<Record<JarMaterial, number>> = { glass: 840, metal: 470, plastic: 2000 };

export const heatSources: readonly string[] = [
  'heat capacity of syrup: 4184 − 2971w + 460w·purity + 7.5w·t J/(kg·K), Llano 2005 (read in a public listing; the ' +
    'formula of the Sugar Technologists Manual, from memory), taken at 25 °C to be on the safe side',
  'heat capacity of container glass: 49 J/(mol·K) at 20 °C (read, a public table of soda-lime glass), taken as 0.84 ' +
    'kJ/(kg·K) up to 85 °C; steel 0.47 and polyethylene 2.0 from memory',
];

const jarShare = (fill: HotFill, syrupJoules: number): number =>
  (fill.jarGrams * jarHeatCapacity[fill.material]) / (syrupGrams(fill, fill.syrupCelsius) * syrupJoules);

const syrupGrams = (fill: HotFill, celsius: number): number =>
  (fill.syrupMillilitres * sucroseDensity(fill.brix, celsius)) / 1000;

const clampToFormula = (celsius: number): number => Math.min(104, Math.max(0, celsius));

/**
 * The same volume poured hotter weighs a little less, so the result is found by iteration; 0 °C where the hot jar alone
 * is enough.
 */
function syrupNeeded(fill: HotFill): number {
  const joules = syrupHeatCapacity(fill.brix, roomCelsius);
  const gap = (fill.jarGrams * jarHeatCapacity[fill.material] * (fill.leastCelsius - fill.jarCelsius)) / joules;
  let celsius = fill.leastCelsius;
  for (let step = 0; step < 40; step++) celsius = fill.leastCelsius + gap / syrupGrams(fill, clampToFormula(celsius));
  return Math.max(0, celsius);
}
