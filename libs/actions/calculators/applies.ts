import { sourceText } from '#libs/syrup/rules/provenance.js';
import type { AppliesHere, PlaceRules, WhereSold } from '#libs/syrup/labelling/places.js';
import type { Parsed } from '#libs/syrup/quantities/quantities.js';
import { placeExpected, placeRules, gradeStandardOf } from '../places/places.js';
import { choice, optional, withDefault } from '../record/fields.js';
import { invalid, isRefusal } from '../record/problem.js';
import { type Answer, flag, defineCalculator } from './calculator.js';

/** Which authorities to ask, and what sources say of licences, registration and thresholds. Gives no verdict. */
export const appliesCalculator = defineCalculator({
  name: 'what-applies',
  title: 'What applies to me?',
  fields: {
    place: withDefault(placeOf, '', { label: 'Place', example: 'Vermont', hint: 'If blank, the place of the book' }),
    product: withDefault(choice('syrup', 'other'), 'syrup', {
      label: 'Product',
      choices: ['syrup', 'other'],
      hint: 'Other is anything but pure maple syrup: candy, cream, sugar, flavoured syrup',
    }),
    farmGate: withDefault(flag, false, { label: 'Sold at the farm or by mail to those who eat it' }),
    market: withDefault(flag, false, { label: 'Sold at a market or fair' }),
    shop: withDefault(flag, false, { label: 'Sold to shops, restaurants or packers' }),
    border: withDefault(flag, false, { label: 'Sold over a border: another state, province or country' }),
    aYear: optional(dollars, { label: 'Sales in a year, in all', example: '$12,000' }),
    toBusinesses: optional(dollars, { label: 'Of that, to shops and other businesses', example: '$2,000' }),
    kitchen: optional(choice('home', 'separate'), {
      label: 'Where it is made and packed',
      choices: ['home', 'separate'],
      hint: 'Home is a kitchen of the house you live in; separate is a sugarhouse or room of its own',
    }),
  },
  answer: (input) => {
    const place = placeRules(input.place);
    if (isRefusal(place)) return place;
    if (input.toBusinesses !== undefined && input.aYear !== undefined && input.toBusinesses > input.aYear)
      return invalid('toBusinesses', 'at most the total sales', money(input.toBusinesses));
    const sold = salesChannels.filter(([name]) => input[name]).map(([, where]) => where);
    const points = pointsFor(place, { ...input, sold });
    return {
      figures: {
        place: place.name,
        offices: place.authority.map(({ name, ask }) => ({ office: name, ask })),
        points: points.map(({ topic, says, source, mark, readOn, you }) => ({
          topic,
          says,
          you,
          source,
          mark,
          readOn: readOn ?? '',
        })),
        notFound: place.notFound.map((what) => ({ what })),
      },
      sentences: [
        `${place.name}: what was read, and whom to ask. This is no verdict: the office decides, and a rule may have changed since.`,
        ...(input.product === 'other'
          ? [
              `What was read is of pure maple syrup. For anything else ask ${place.authority[0]?.name ?? 'the authority'} before you make it: it may need a licence, a process or a label of its own.`,
            ]
          : []),
        ...(sold.length === 0 ? ['Tick where you sell it to see what depends on that.'] : []),
        ...formatRetailShare(place, input),
        ...(place.fellBack ? [place.fellBack] : []),
      ],
      asks: place.authority.map(({ name, ask }) => `Ask ${name}: ${ask}.`),
      points: points.map((point) => ({
        topic: point.topic,
        says: [point.says, point.you].filter((text) => text !== '').join(' '),
        source: sourceText(point),
      })),
      notFound: place.notFound,
      sources: [...new Set(points.map(sourceText))],
    } satisfies Answer;
  },
});

const salesChannels = [
  ['farmGate', 'farm-gate'],
  ['market', 'market'],
  ['shop', 'shop'],
  ['border', 'border'],
] as const satisfies readonly (readonly [string, WhereSold])[];

interface Answers {
  readonly sold: readonly WhereSold[];
  readonly kitchen?: 'home' | 'separate' | undefined;
  readonly aYear?: number | undefined;
}

/**
 * The country's points first, then the place's; a point that depends on an answer is left out where the answer differs.
 */
function pointsFor(place: PlaceRules, input: Answers): (AppliesHere & { readonly you: string })[] {
  const country = gradeStandardOf(place);
  return [...(country.applies ?? []), ...(country.id === place.id ? [] : (place.applies ?? []))]
    .filter(({ when }) => !when?.sold || when.sold.some((where) => input.sold.includes(where)))
    .filter(({ when }) => !when?.kitchen || (input.kitchen !== undefined && when.kitchen.includes(input.kitchen)))
    .map((point) => ({ ...point, you: formatThreshold(point, input.aYear) }));
}

/** Shows the typed amount beside the published limit; the authority decides which amounts count. */
function formatThreshold({ threshold }: AppliesHere, aYear: number | undefined): string {
  if (!threshold) return '';
  const named = `${money(threshold.dollars)} of ${threshold.of}`;
  if (aYear === undefined) return `How much you sell in a year was not given; the sum named is ${named}.`;
  const side = aYear > threshold.dollars ? 'more than' : 'no more than';
  return `You gave ${money(aYear)} in all, ${side} ${money(threshold.dollars)}; ask which sales count.`;
}

function formatRetailShare(
  place: PlaceRules,
  { aYear, toBusinesses }: { readonly aYear?: number | undefined; readonly toBusinesses?: number | undefined },
): string[] {
  if (place.canada || aYear === undefined || toBusinesses === undefined) return [];
  const toConsumers = aYear - toBusinesses;
  const side = toConsumers > toBusinesses ? 'more than' : 'no more than';
  return [
    `You gave ${money(toConsumers)} to those who eat it, ${side} the ${money(toBusinesses)} to businesses: the balance that 21 CFR 1.227 asks of a retail food establishment.`,
  ];
}

const money = (amount: number): string =>
  `$${Math.round(amount)
    .toString()
    .replace(/\B(?=(\d{3})+$)/g, ',')}`;

function placeOf(typed: string): Parsed<string> {
  return isRefusal(placeRules(typed)) ? { mismatch: { expected: placeExpected, got: `"${typed}"` } } : { value: typed };
}

/** Whole amounts, with or without a dollar sign and thousands separators. */
function dollars(typed: string): Parsed<number> {
  const plain = typed.trim().replace(/^(US|CA)?\s*\$\s*/i, '');
  return /^(\d{1,9}|\d{1,3}(,\d{3}){1,2})(\.\d{2})?$/.test(plain)
    ? { value: Number(plain.replaceAll(',', '')) }
    : { mismatch: { expected: 'a sum of money like $12,000', got: `"${typed.trim()}"` } };
}
