import { choice, maybe, orElse, ticks } from '../record/fields.js';

/*
 * Steps done by hand or checked by eye, ticked by whoever did them and never pre-filled. They don't affect the verdict.
 * All are common practice without a source, except filling to the shoulder, boiled lids and wiped rims, which handbooks
 * ask for (from memory), and laying jars on their side, which Ontario's advice of 2014 asks for.
 */

export const sapHandling = orElse(ticks('strained', 'packed-in-snow'), [] as readonly string[], {
  label: 'What was done',
  choices: ['strained', 'packed-in-snow'],
  list: true,
  hint: 'Tick what was done',
});

const ready = ['lids-new', 'lids-boiled', 'jars-hot'] as const;
const filled = ['filled-to-the-shoulder', 'rims-wiped', 'laid-down-or-turned'] as const;

export const preparedSteps = orElse(ticks(...ready), [] as readonly string[], {
  label: 'Preparation',
  choices: ready,
  list: true,
  hint: 'Tick what was done',
});
export const filledSteps = orElse(ticks(...filled), [] as readonly string[], {
  label: 'At each jar',
  choices: filled,
  list: true,
  hint: 'Tick what was done. Full to the shoulder: the small space under the lid makes the vacuum',
});

const runs = ['drops', 'two-drops-together', 'sheet'] as const;

export const spoonSign = maybe(choice(...runs), {
  label: 'Off the spoon it runs in',
  choices: runs,
  hint: 'A sign, never a measurement: test the density',
});
