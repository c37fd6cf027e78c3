import { products } from '#libs/syrup/contents/judge-product.js';
import { isBlank, isNone } from '#libs/syrup/free-text/short-answers.js';
import { choice, withDefault, text } from '../record/fields.js';

/** A product by name, or free text. "N/A" names no product and is rejected. */
export const productField = withDefault(
  (typed, options) => {
    if (isBlank(typed)) return { value: '' };
    if (isNone(typed)) return { mismatch: { expected: `blank, or one of ${products.join(', ')}`, got: `"${typed}"` } };
    const found = choice(...products)(typed, options);
    return found.mismatch ? text(typed, options) : found;
  },
  '',
  {
    label: 'What is in the jar',
    example: 'barrel-aged',
    choices: products,
    hint: 'Blank means pure maple syrup. Boilbook gives anything else no verdict and no syrup label: ask your authority first',
  },
);
