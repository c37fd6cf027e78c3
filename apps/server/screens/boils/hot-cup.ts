import { hotCup } from '#libs/actions/kinds/boil-line.js';
import type { LineBody } from '#libs/records/kinds/boil-line.js';
import { type CupVerdict, judgeCup } from '#libs/syrup/rules/judge-cup.js';
import { hydrometerTemperature } from '#libs/syrup/instruments/hydrometer-temperature.js';
import { formatTemperature, formatDensity } from '#libs/syrup/quantities/format-quantities.js';
import type { HotCupView } from '#pages/lots/hot-cup.js';
import type { FormContext } from '../../forms/form-view.js';
import { clock } from '../../text/times.js';

/** The newest sample in the cup, judged by the place's current chart. */
export function hotCupView({ place, house }: FormContext, lines: readonly LineBody[]): HotCupView | undefined {
  const last = lines.findLast((line) => line.what === hotCup && line.density);
  if (!last?.density) return undefined;
  const { verdict, brix, limit, found } = judgeCup(
    {
      reading: last.density,
      sampleAt: last.sampleTemp,
      hydrometersMadeFor: hydrometerTemperature(house?.hydrometerMadeFor),
    },
    place,
  );
  const sample = last.sampleTemp ? ` at ${formatTemperature(last.sampleTemp)}` : '';
  const trueBrix = brix === null ? '' : `; ${brix.toFixed(1)} °Bx at 20 °C`;
  return {
    reading: formatDensity(last.density),
    beside: `in the cup${sample}, ${clock(last.at)}${trueBrix}`,
    ...verdictTexts[verdict],
    found: limit === undefined ? undefined : `${found}. Limit: ${limit}.`,
  };
}

const verdictTexts: Readonly<Record<CupVerdict, Pick<HotCupView, 'kind' | 'text' | 'advice'>>> = {
  'heavy-enough': {
    kind: 'passes',
    text: 'heavy enough',
    advice: 'Draw it off. Read the density again when you pack.',
  },
  // A reading of exactly the chart's minimum passes.
  'near-limit': {
    kind: 'advice',
    text: 'PASSES, NEAR THE LIMIT',
    advice: 'Within the uncertainty of the instrument. Measure again as you draw it off.',
  },
  'too-thin': { kind: 'stops', text: 'TOO THIN', advice: 'Boil on, and do not leave the pan.' },
  'too-heavy': { kind: 'stops', text: 'TOO HEAVY', advice: 'Draw it off at once; it can be thinned.' },
  'measure-again': {
    kind: 'advice',
    text: 'MEASURE AGAIN',
    advice: 'Short, but too near the limit to tell. Take a fresh sample, and do not leave the pan.',
  },
  'limit-to-confirm': {
    kind: 'advice',
    text: 'UNSURE',
    advice: 'It misses a limit that is not confirmed. Ask the authority, or boil on to be safe.',
  },
  'hydrometer-not-known': {
    kind: 'advice',
    text: 'UNSURE',
    advice:
      'It passes by a hydrometer made for 60 °F and not by one made for 68 °F. Look at what is printed on yours; until then boil on to be safe.',
  },
  'not-usable': { kind: 'stops', text: 'NOT READ', advice: 'This reading can’t be used. Measure again.' },
};
