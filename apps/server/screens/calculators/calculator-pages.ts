import { askOfBook, questionFields, questions } from '#libs/actions/calculators/calculators.js';
import type { Answer } from '#libs/actions/calculators/question.js';
import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import { all, fieldViews, one, type Posted } from '../../forms/field-view.js';
import { formContext, problemView } from '../../forms/form-view.js';
import { withChoices } from '../../forms/with-choices.js';
import { pairsText } from '../../forms/pair-rows.js';
import { lineByLine } from '../../forms/with-unit.js';
import type { Principal } from '../../http/principal.js';
import { fieldText } from '#libs/actions/record/problem.js';
import type { FigureRow } from '#pages/calculators/question.js';
import type { FieldView } from '#pages/parts/field-view.js';

/** The list of calculators. */
export const questionsPage = () => ({
  title: 'Calculators',
  here: '',
  questions: questions.map(({ name, title }) => ({ name, title })),
});

/** One calculator, with its result where the address holds a question; nothing is saved. */
export async function questionPage(principal: Principal, name: string, query: Posted) {
  const question = questions.find((each) => each.name === name);
  if (!question) return unknown('question', name) satisfies Refusal;
  const houseContext = await formContext(principal);
  const flags = new Set(
    questionFields(question)
      .filter((field) => field.flag)
      .map((field) => field.name),
  );
  const sent = Object.fromEntries(
    Object.keys(question.asks).flatMap((field) => {
      const typed = flags.has(field)
        ? one(query[field]) === 'yes'
          ? 'yes'
          : ''
        : pairsText(field, question.asks[field]?.read, query) ||
          lineByLine(all(query[field]).join(';'), one(query[`${field}~unit`]));
      return typed === '' ? [] : [[field, typed]];
    }),
  );
  const answer = Object.keys(sent).length === 0 ? undefined : askOfBook(name, sent, houseContext);
  const refusal = answer && 'problem' in answer ? answer.problem : undefined;
  const views = fieldViews(question.asks, {
    posted: query,
    faults: refusal && 'faults' in refusal ? (refusal.faults ?? []) : [],
    measures: houseContext.measures,
  }).map((view): FieldView => (flags.has(view.name) ? { ...view, control: 'tick' } : withChoices(view)));
  return {
    title: question.title,
    here: '',
    name,
    views,
    summary: problemView(refusal, question.asks),
    answer: answer && !('problem' in answer) ? shownAnswer(answer) : undefined,
  };
}

function shownAnswer(answer: {
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
