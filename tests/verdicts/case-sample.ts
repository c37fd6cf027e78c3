import { stepsOf, type Step, type VerdictCase } from './verdict-case.js';

/**
 * Every `oneIn`-th case. With `eachForm` also the cases that between them enter every field of each kind of step, and have
 * every last step refused, in every form of text in which any case does: `186 F@10:05#T1 jar 1` and
 * `98 C@9:40#T1 jar 12` have the same form. `BOILBOOK_TEST_CASES=all` gives all cases.
 */
export function sampleOf(
  cases: readonly VerdictCase[],
  { oneIn, eachForm }: { readonly oneIn: number; readonly eachForm: boolean },
): readonly VerdictCase[] {
  if (process.env['BOILBOOK_TEST_CASES'] === 'all') return cases;
  const seen = new Set<string>();
  return cases.filter((of, n) => {
    const forms = eachForm ? formsIn(of) : [];
    const isNew = forms.some((form) => !seen.has(form));
    for (const form of forms) seen.add(form);
    return isNew || n % oneIn === 0;
  });
}

function formsIn(of: VerdictCase): string[] {
  const steps = stepsOf(of).map(formsOf);
  const refused = of.refuses ? (steps.at(-1) ?? []).map((form) => `${form} refused`) : [];
  return [...steps.flat(), ...refused];
}

function formsOf(step: Step): string[] {
  const fields = 'fields' in step ? Object.entries(step.fields) : [];
  return [nameOf(step), ...fields.map(([name, text]) => `${nameOf(step)} ${name}: ${formOf(text)}`)];
}

function nameOf(step: Step): string {
  if ('record' in step) return step.record;
  if ('add' in step) return `addition to ${step.add}`;
  if ('correct' in step) return `correction of ${step.correct}`;
  return 'void' in step ? `void ${step.void}` : step.mark;
}

/** A number becomes one digit and a run of words one letter; signs, order and the marks of instruments (`#T2`) stay. */
const formOf = (text: string): string =>
  text
    .replace(/(?<!#\p{L}*)\d+/gu, '9')
    .replace(/(?<!#)\p{L}+/gu, 'a')
    .replace(/a(?: a)+/g, 'a');
