/** Readings of a thermometer in ice water and in boiling water, against the true values. Either may be missing. */
export interface ThermometerCheck {
  readonly iceReadCelsius?: number | undefined;
  readonly boilingReadCelsius?: number | undefined;
  /** The day's true boiling point of water, by barometer or elevation. */
  readonly waterBoilsCelsius: number;
}

/** The result of a check at one or two points. */
export interface ThermometerVerdict {
  /** °C to add to a reading, for each checked point. */
  readonly atIceCelsius: number | null;
  readonly atBoilingCelsius: number | null;
  readonly within: boolean;
}

/**
 * ±2 °F at either point (read for the ice point in several extension record templates; the same used for boiling
 * water).
 */
export const allowedErrorCelsius = 2 / 1.8;
export const thermometerSource =
  'thermometer check, ice point 32 °F ± 2 °F: several extension record templates (read); the same width for boiling ' +
  'water is common practice, no source';

/** A thermometer's error at ice and in boiling water, in °C; null where that was not read. */
export function thermometerVerdict(check: ThermometerCheck): ThermometerVerdict {
  const atIceCelsius = check.iceReadCelsius === undefined ? null : -check.iceReadCelsius;
  const atBoilingCelsius =
    check.boilingReadCelsius === undefined ? null : check.waterBoilsCelsius - check.boilingReadCelsius;
  const out = [atIceCelsius, atBoilingCelsius].some(
    (add) => add !== null && Math.abs(add) > allowedErrorCelsius + 1e-9,
  );
  return { atIceCelsius, atBoilingCelsius, within: !out };
}

/** °C to add to a reading: from a line through both checked points, or the offset of the only one. */
export function thermometerCorrection(
  check: ThermometerCheck,
  readingCelsius: number,
): { readonly offsetCelsius: number; readonly out: boolean } {
  const { atIceCelsius, atBoilingCelsius, within } = thermometerVerdict(check);
  const out = !within;
  if (atIceCelsius === null || atBoilingCelsius === null)
    return { offsetCelsius: atBoilingCelsius ?? atIceCelsius ?? 0, out };
  const ice = check.iceReadCelsius ?? 0;
  const boiling = check.boilingReadCelsius ?? check.waterBoilsCelsius;
  const part = (readingCelsius - ice) / (boiling - ice);
  return { offsetCelsius: atIceCelsius + part * (atBoilingCelsius - atIceCelsius), out };
}
