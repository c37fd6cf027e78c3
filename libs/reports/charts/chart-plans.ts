import { jarsByPlace, sapToSyrup } from './flows.js';
import { syrupByDay } from './syrup-by-day.js';
import type { ChartSpec } from './chart-spec.js';
import type { ChartShape } from './chart-shape.js';
import { earlierSeasonsChart, boilWithPanLog, panTemperature } from './seasons.js';
import { density, fillTemperatures } from './readings.js';
import type { Season } from '../season/season.js';
import { seasonUnit } from '#libs/format/format-volume.js';

/** In the order in which they are shown. */
export const pictureNames = [
  'fillTemperatures',
  'density',
  'syrupByDay',
  'sapToSyrup',
  'panTemperature',
  'besideEarlier',
  'jarsByPlace',
] as const;
export type PictureName = (typeof pictureNames)[number];

/** A picture before drawing: its title, its text alternative, and the positions of its parts. */
export interface PicturePlan {
  readonly title: string;
  readonly caption: string;
  readonly spec: ChartSpec;
}

/** The plan of each picture of the season, with its title and text alternative. */
export function picturePlans(season: Season, shape: ChartShape): Readonly<Record<PictureName, PicturePlan>> {
  const { fillLimit, densityLimit } = season.house;
  const boil = boilWithPanLog(season);
  return {
    fillTemperatures: {
      title: 'Every fill temperature, in the jar when capped',
      caption: `Every fill temperature against the limit: ${fillLimit.words}.`,
      spec: fillTemperatures(season, shape),
    },
    density: {
      title: 'Density of each lot, °Bx at 20 °C',
      caption: `Density of each lot against the band: ${densityLimit.words}.`,
      spec: density(season, shape),
    },
    syrupByDay: {
      title: `Syrup packed by day, ${seasonUnit(season)} of each colour class`,
      caption: `Syrup packed each day in ${seasonUnit(season)}, a strip for each colour class.`,
      spec: syrupByDay(season, shape),
    },
    sapToSyrup: {
      title: 'Sap to syrup ratio of each boil',
      caption: 'Parts of sap for one part of syrup in each boil, and for the season.',
      spec: sapToSyrup(season, shape),
    },
    panTemperature: {
      title: `Pan temperature over time${boil ? `, boil ${boil.lot}` : ''}`,
      caption:
        'Pan temperatures of the boil with the most readings; the line is the temperature at which it was drawn off.',
      spec: panTemperature(season, shape),
    },
    besideEarlier: {
      title: 'Syrup made, this season and earlier ones',
      caption: `Syrup made in ${seasonUnit(season)}, a bar for each season, this one dark.`,
      spec: earlierSeasonsChart(season, shape),
    },
    jarsByPlace: {
      title: 'Jars sent out, by place',
      caption: 'Jars sent out, most first.',
      spec: jarsByPlace(season, shape),
    },
  };
}
