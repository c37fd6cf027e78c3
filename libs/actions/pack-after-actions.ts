import type { ActionBody, PackBody } from '#libs/records/bodies.js';

/** A pack by its newest readings: what the corrective actions read anew stands in place of what was read before. */
export interface PackAsItStands extends PackBody {
  /** The density was read before the syrup was last brought to a boil. */
  readonly densityIsStale: boolean;
  /** Allergens of a defoamer, answered by an action. */
  readonly defoamerAllergens: string;
}

export function packAfterActions(pack: PackBody, actions: readonly ActionBody[]): PackAsItStands {
  let stands: PackAsItStands = {
    ...pack,
    densityIsStale: false,
    defoamerAllergens: '',
  };
  for (const action of actions) {
    const boiledAgain = (action.hotPackTemp?.celsius ?? 0) >= boilsFromCelsius;
    stands = {
      ...stands,
      ...(action.hotPackTemp ? { hotPackTemp: action.hotPackTemp } : {}),
      ...(action.fillTemps.length > 0 ? { fillTemps: action.fillTemps } : {}),
      ...(action.densityReading
        ? {
            densityReading: action.densityReading,
            densityAt: action.densityAt,
            densityBy: action.densityBy,
            densityCalibratedAt: action.densityCalibratedAt,
          }
        : {}),
      densityIsStale: action.densityReading ? false : stands.densityIsStale || boiledAgain,
      ...(action.sealsFailed === undefined ? {} : { sealsFailed: action.sealsFailed }),
      ...(action.sealsOutcome === '' ? {} : { sealsOutcome: action.sealsOutcome }),
      ...(action.clarity === '' ? {} : { clarity: action.clarity }),
      ...(action.offFlavour === '' ? {} : { offFlavour: action.offFlavour }),
      ...(action.defoamerAllergens === '' ? {} : { defoamerAllergens: action.defoamerAllergens }),
    };
  }
  return stands;
}

/** Syrup at 210 °F or more is boiling or near it: water leaves, and a density read before says nothing. */
const boilsFromCelsius = 98.8;
