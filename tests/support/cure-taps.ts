/**
 * The taps and digits on a phone from a hold until its jars may go or are gone. `tests/browser/cure-taps` measures each
 * in a real browser and fails if it differs; `npm run bench -- seasons` uses them.
 */
export const cureTaps = {
  /** At the cold reading, while filling. */
  pouredBackAtOnce: { taps: 1, digits: 0 },
  /** The corrective action with one reading for twelve jars, and the release. */
  packedAgain: { taps: 10, digits: 5 },
  /** The corrective action without readings, and the release. */
  destroyed: { taps: 8, digits: 0 },
  /** Perhaps hot enough: released with a sentence. */
  released: { taps: 2, digits: 0 },
} as const;
