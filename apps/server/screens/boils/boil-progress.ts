import { reckon } from '#libs/actions/calculators/calculators.js';
import { momentIn } from '#libs/actions/record/times.js';
import type { LineBody } from '#libs/records/kinds/boil-line.js';
import { hotCup } from '#libs/actions/kinds/boil-line.js';
import type { BoilBody } from '#libs/records/kinds/boil.js';
import { formatTemperature } from '#libs/syrup/quantities/format-quantities.js';
import type { FormContext } from '../../forms/form-view.js';
import { clock, elapsed } from '../../text/times.js';

/**
 * Within 2.5 °F of the finishing point, an inch of syrup in a flat pan is minutes from burning (calculated, see the
 * cautions).
 */
const nearFahrenheit = 2.5;
/** The number of readings that the fitted line uses. */
const maxReadingsFitted = 4;

/** A boil in progress: where it finishes today, how near it is, and when it is to be drawn off. */
export interface BoilProgress {
  readonly unit: 'F' | 'C';
  /** Today's finishing temperature, in the unit given: undefined until water was boiled. */
  readonly finish: { readonly degrees: number; readonly reading: string; readonly limit: string } | undefined;
  readonly waterBoilsAt: string | undefined;
  readonly last: { readonly reading: string; readonly limit: string; readonly context: string } | undefined;
  /** How far the last reading is from the finish, `2.8 °F to go`. */
  readonly toGo: string | undefined;
  readonly near: string | undefined;
  /** Degrees from which the page calls a typed reading near the finish. */
  readonly nearFromDegrees: number | undefined;
  readonly draw: DrawView | undefined;
  readonly pans: readonly string[];
}

interface DrawView {
  readonly reading: string;
  readonly limit: string;
  readonly sentences: readonly string[];
  /** The earliest time at which it may be finished: from then on somebody must stay at the pan. */
  readonly earliestDraw: string | undefined;
  readonly near: boolean;
}

/** How far a boil is: today's finishing temperature, the last reading and how much is missing. */
export function boilProgress(
  context: FormContext,
  boil: BoilBody,
  lines: readonly LineBody[],
  now: string,
): BoilProgress {
  // A sample's temperature is not that of the pan.
  const panReadings = lines.filter((line) => line.temperature && line.what !== hotCup);
  const last = panReadings.at(-1);
  const unit = boil.waterBoilsAt?.unit ?? context.measures.temperatures;
  const degrees = finishDegrees(context, boil);
  const draw = degrees === undefined || !last ? undefined : drawView(context, boil, panReadings, last, now);
  const degreesLeft =
    degrees === undefined || last?.temperature?.unit !== unit ? undefined : degrees - last.temperature.degrees;
  const margin = unit === 'F' ? nearFahrenheit : nearFahrenheit / 1.8;
  return {
    unit,
    finish:
      degrees === undefined || !boil.waterBoilsAt
        ? undefined
        : {
            degrees,
            reading: `${degrees.toFixed(1)} °${unit}`,
            limit: `finishing temperature for ${minBrix(context)} °Bx, as water boils at ${formatTemperature(boil.waterBoilsAt)}`,
          },
    waterBoilsAt: boil.waterBoilsAt && formatTemperature(boil.waterBoilsAt),
    last: last?.temperature && {
      reading: formatTemperature(last.temperature),
      limit: `${last.pan || 'last reading'}, ${clock(last.at)}`,
      context: last.at,
    },
    toGo:
      degreesLeft === undefined ? undefined : degreesLeft > 0.05 ? `${degreesLeft.toFixed(1)} °${unit} to go` : 'there',
    near: degreesLeft === undefined || !last ? undefined : nearText(degreesLeft, margin, last, draw),
    nearFromDegrees: degrees === undefined ? undefined : Number((degrees - margin).toFixed(2)),
    draw,
    pans: [...new Set(lines.map((line) => line.pan).filter(Boolean))].reverse(),
  };
}

function nearText(degreesLeft: number, margin: number, last: LineBody, draw: DrawView | undefined) {
  if (degreesLeft <= 0.05) return 'At the finishing temperature. Test the density now, and do not leave the pan.';
  if (degreesLeft <= margin) return 'Near the finish. Do not leave the pan.';
  return draw?.near
    ? `It may be ready from ${clock(draw.earliestDraw ?? last.at)} on. Do not leave the pan.`
    : undefined;
}

/** When the pan that was read last is due to be drawn off, by the line through its last readings. */
function drawView(
  context: FormContext,
  boil: BoilBody,
  panReadings: readonly LineBody[],
  last: LineBody,
  now: string,
): DrawView | undefined {
  const samePan = panReadings.filter((line) => line.pan === last.pan).slice(-maxReadingsFitted);
  const readings = samePan.map((line) => `${line.temperature?.typed ?? ''}@${clock(line.at)}`);
  if (samePan.length < 2 || !boil.waterBoilsAt) return undefined;
  const answer = reckon(
    'thickening',
    { readings: readings.join('; '), waterBoils: boil.waterBoilsAt.typed, density: `${minBrix(context)} Bx` },
    context.parseOptions,
  );
  if ('problem' in answer) return undefined;
  const { minutesToDraw, earliestMinutes, latestMinutes, near } = answer.figures;
  const clockAfter = (minutes: unknown): string | undefined =>
    typeof minutes === 'number' ? minutesAfter(last.at, minutes, context.parseOptions.zone) : undefined;
  const [when, earliest, latest] = [minutesToDraw, earliestMinutes, latestMinutes].map(clockAfter);
  return {
    reading: when === undefined ? 'not known yet' : minutesToDraw === 0 ? 'now' : `about ${clock(when)}`,
    limit: when === undefined || minutesToDraw === 0 ? 'draw-off' : drawText(now, when, { earliest, latest }),
    sentences: answer.sentences.slice(near === true ? 2 : 1),
    earliestDraw: earliest,
    near: near === true,
  };
}

/** A time that has passed says nothing about the pan's present state. */
function drawText(
  now: string,
  when: string,
  { earliest, latest }: { readonly earliest: string | undefined; readonly latest: string | undefined },
): string {
  const bounds = `not before ${clock(earliest ?? when)}${latest ? `, by ${clock(latest)}` : ', latest not known'}`;
  return Date.parse(when) < Date.parse(now)
    ? `draw-off, ${elapsed(when, now)} ago by the last readings: read the pan again`
    : `draw-off, in ${elapsed(now, when)}; ${bounds}`;
}

const minutesAfter = (moment: string, minutes: number, zone: string): string =>
  momentIn(zone, new Date(Date.parse(moment) + minutes * 60_000));

const minBrix = ({ place }: FormContext): number =>
  (place.minimumBrix.gates ? place.minimumBrix : (place.standInMinimumBrix ?? place.minimumBrix)).value;

/** The finishing point of the day, from where water boils today; a thermometer says test now, never that it passes. */
function finishDegrees(context: FormContext, boil: BoilBody): number | undefined {
  if (!boil.waterBoilsAt) return undefined;
  const answer = reckon(
    'finish',
    { waterBoils: boil.waterBoilsAt.typed, density: `${minBrix(context)} Bx` },
    context.parseOptions,
  );
  if ('problem' in answer) return undefined;
  const point = answer.figures[boil.waterBoilsAt.unit === 'C' ? 'finishC' : 'finishF'];
  return typeof point === 'number' ? point : undefined;
}
