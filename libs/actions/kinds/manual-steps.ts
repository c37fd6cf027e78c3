import { choice, optional, withDefault, checkboxes } from '../record/fields.js';

/*
 * Steps done by hand or checked by eye, ticked by whoever did them and never pre-filled. They don't affect the verdict.
 * All are common practice without a source, except filling to the shoulder, boiled lids and wiped rims, which handbooks
 * ask for (from memory), and laying jars on their side, which Ontario's advice of 2014 asks for.
 */

export const sapHandling = withDefault(checkboxes('strained', 'packed-in-snow'), [] as readonly string[], {
  label: 'What was done',
  choices: ['strained', 'packed-in-snow'],
  list: true,
  hint: 'Tick what was done',
});

const preparationSteps = ['lids-new', 'lids-boiled', 'jars-hot'] as const;
const jarSteps = ['filled-to-the-shoulder', 'rims-wiped', 'laid-down-or-turned'] as const;

export const preparedSteps = withDefault(checkboxes(...preparationSteps), [] as readonly string[], {
  label: 'Preparation',
  choices: preparationSteps,
  list: true,
  hint: 'Tick what was done',
});
export const filledSteps = withDefault(checkboxes(...jarSteps), [] as readonly string[], {
  label: 'At each jar',
  choices: jarSteps,
  list: true,
  hint: 'Tick what was done. Full to the shoulder: the small space under the lid makes the vacuum',
});

const spoonSigns = ['drops', 'two-drops-together', 'sheet'] as const;

export const spoonSign = optional(choice(...spoonSigns), {
  label: 'Off the spoon it runs in',
  choices: spoonSigns,
  hint: 'A sign, never a measurement: test the density',
});
