import { calculateForBook, calculatorFields, calculators } from '#libs/actions/calculators/calculators.js';
import type { Answer } from '#libs/actions/calculators/calculator.js';
import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import { allTexts, fieldViews, firstText, type Posted } from '../../forms/field-view.js';
import { formContext, problemView } from '../../forms/form-view.js';
import { withChoices } from '../../forms/with-choices.js';
import { pairsText } from '../../forms/pair-rows.js';
import { linesWithUnit } from '../../forms/with-unit.js';
import type { Principal } from '../../http/principal.js';
import { fieldText } from '#libs/actions/record/problem.js';
import type { FigureRow } from '#pages/calculators/calculator.js';
import type { FieldView } from '#pages/parts/field-view.js';

/** The list of calculators. */
export const calculatorsPage = () => ({
  title: 'Calculators',
  here: '',
  calculators: calculators.map(({ name, title }) => ({ name, title })),
});

/** One calculator, with its result where the address holds its fields; nothing is saved. */
export async function calculatorPage(principal: Principal, name: string, query: Posted) {
  const calculator = calculators.find((each) => each.name === name);
  if (!calculator) return unknown('question', name) satisfies Refusal;
  const houseContext = await formContext(principal);
  const flags = new Set(
    calculatorFields(calculator)
      .filter((field) => field.flag)
      .map((field) => field.name),
  );
  const sent = Object.fromEntries(
    Object.keys(calculator.fields).flatMap((field) => {
      const typed = flags.has(field)
        ? firstText(query[field]) === 'yes'
          ? 'yes'
          : ''
        : pairsText(field, calculator.fields[field]?.read, query) ||
          linesWithUnit(allTexts(query[field]).join(';'), firstText(query[`${field}~unit`]));
      return typed === '' ? [] : [[field, typed]];
    }),
  );
  const answer = Object.keys(sent).length === 0 ? undefined : calculateForBook(name, sent, houseContext);
  const refusal = answer && 'problem' in answer ? answer.problem : undefined;
  const views = fieldViews(calculator.fields, {
    posted: query,
    faults: refusal && 'faults' in refusal ? (refusal.faults ?? []) : [],
    measures: houseContext.measures,
  }).map((view): FieldView => (flags.has(view.name) ? { ...view, control: 'tick' } : withChoices(view)));
  return {
    title: calculator.title,
    here: '',
    name,
    views,
    summary: problemView(refusal, calculator.fields),
    answer: answer && !('problem' in answer) ? answerView(answer) : undefined,
  };
}

function answerView(answer: {
  figures: Readonly<Record<string, unknown>>;
  sentences: readonly string[];
  sources: readonly string[];
  asks?: readonly string[];
  points?: Answer['points'];
  notFound?: readonly string[];
}) {
  return {
    asks: answer.asks ?? [],
    points: answer.points ?? [],
    notFound: answer.notFound ?? [],
    sentences: answer.sentences,
    sources: answer.sources,
    figures: Object.entries(answer.figures).flatMap(([name, value]) => {
      if (typeof value === 'number') return [{ text: fieldText(name), value: String(Math.round(value * 1000) / 1000) }];
      if (typeof value === 'boolean') return [{ text: fieldText(name), value: value ? 'yes' : 'no' }];
      if (typeof value === 'string') return [{ text: fieldText(name), value }];
      return [];
    }),
    rows: Object.values(answer.figures).flatMap((value) => (Array.isArray(value) ? [value as FigureRow[]] : [])),
  };
}
