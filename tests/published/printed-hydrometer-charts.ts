/**
 * Hydrometer charts as printed, for a hydrometer made for 60 °F: what it reads at the temperature of the sample.
 * For syrup of 66.9 °Bx / 36.0 °Bé at 60 °F: an instrument maker's printed manual, 2014, p. 19 (second hand). Its
 * hot-test line, 211 °F with 32.1 °Bé and 59.1 °Bx, disagrees with the row below it by 0.2 and is left out.
 */
export const printed669: readonly (readonly [fahrenheit: number, baume: number, brix: number])[] = [
  [209, 32.0, 59.0],
  [202, 32.25, 59.6],
  [193, 32.5, 60.0],
  [185, 32.75, 60.4],
  [176, 33.0, 60.9],
  [167, 33.25, 61.4],
  [158, 33.5, 61.8],
  [149, 33.75, 62.3],
  [140, 34.0, 62.8],
  [130, 34.25, 63.3],
  [120, 34.5, 63.8],
  [110, 34.75, 64.3],
  [100, 35.0, 64.8],
  [90, 35.25, 65.4],
  [80, 35.5, 65.9],
  [70, 35.75, 66.4],
  [60, 36.0, 66.9],
  [50, 36.25, 67.4],
];

/** For syrup of 66.0 °Bx at 60 °F: a printed chart quoted on a page, its first nine rows, paired by their order (second hand). */
export const printed66: readonly (readonly [fahrenheit: number, brix: number])[] = [
  [209, 58.0],
  [202, 58.5],
  [193, 59.0],
  [185, 59.5],
  [180, 59.7],
  [176, 60.0],
  [167, 60.5],
  [158, 61.0],
  [149, 61.5],
];
