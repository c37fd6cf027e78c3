/**
 * What a stop costs at a phone until its jars may go or are gone, in taps and digits. `tests/browser/cure-taps` measures
 * each in a real browser and fails where it is another; `npm run bench -- seasons` counts with them.
 */
export const cureTaps = {
  /** On the cold reading, at the bench. */
  pouredBackAtOnce: { taps: 1, digits: 0 },
  /** The corrective action with one reading for twelve jars, and the release. */
  packedAgain: { taps: 8, digits: 5 },
  /** The corrective action without readings, and the release. */
  destroyed: { taps: 6, digits: 0 },
  /** Perhaps hot enough: released with a sentence. */
  released: { taps: 2, digits: 0 },
} as const;
