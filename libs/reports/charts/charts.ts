import type { Picture, Pictures } from '../season/pictures.js';
import type { Season } from '../season/season.js';
import { picturePlans, type PicturePlan } from './chart-plans.js';
import { chartShapes, type ShapeName } from './chart-shape.js';
import { drawChart } from './draw-chart.js';

/** The season's pictures as SVG, drawn for paper or for a window. */
export function drawCharts(season: Season, shape: ShapeName = 'paper'): Pictures {
  const plans = picturePlans(season, chartShapes[shape]);
  const picture = ({ title, caption, spec }: PicturePlan): Picture => ({ title, caption, svg: drawChart(spec) });
  return {
    fillTemperatures: picture(plans.fillTemperatures),
    density: picture(plans.density),
    syrupByDay: picture(plans.syrupByDay),
    sapToSyrup: picture(plans.sapToSyrup),
    panTemperature: picture(plans.panTemperature),
    besideEarlier: picture(plans.besideEarlier),
    jarsByPlace: picture(plans.jarsByPlace),
  };
}
