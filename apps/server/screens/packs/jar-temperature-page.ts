import { fillCalculator } from '#libs/actions/calculators/filling.js';
import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import { reckon } from '#libs/actions/calculators/calculators.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { fieldViews, firstText, type Posted } from '../../forms/field-view.js';
import { formContext, problemView } from '../../forms/form-view.js';
import { withUnit } from '../../forms/with-unit.js';
import type { Principal } from '../../http/principal.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { ProblemView } from '#pages/parts/summary.js';

const fieldNames = ['syrup', 'glassAt', 'glass'] as const;

/**
 * Estimates a jar's temperature from the syrup, the empty jar's temperature and its weight; the pack supplies the rest.
 * Nothing is written: what counts is the reading in the jar.
 */
export async function jarTemperaturePage(principal: Principal, code: string, posted: Posted) {
  const { read } = principal.book;
  const pack = await findRecord(sugarhouseReader(read, principal.writeContext.sugarhouse), 'pack', code);
  if (!pack) return unknown('pack', code) satisfies Refusal;
  const { parseOptions: options, measures, place } = await formContext(principal);
  const brix =
    (await findLot(sugarhouseReader(read, principal.writeContext.sugarhouse), code))?.verdict?.brix ??
    place.minimumBrix.value;
  const { container } = pack.body;
  const material = container.material === 'other' ? 'glass' : container.material;
  const known = { fill: container.volume.typed, density: `${brix} Bx`, material };
  const unitOf = (name: string): string =>
    firstText(posted[`${name}~unit`]) || (name === 'glass' ? '' : measures.temperatures);
  const view = Object.fromEntries(fieldNames.map((name) => [name, withUnit(firstText(posted[name]), unitOf(name))]));
  const isFilled = fieldNames.some((name) => view[name] !== '');
  const sent = Object.fromEntries(Object.entries({ ...view, ...known }).filter(([, text]) => text !== ''));
  const answer = isFilled ? reckon('fill', sent, options) : undefined;
  const refusal = answer && 'problem' in answer ? answer.problem : undefined;
  return {
    title: `How hot will the jar be, ${code}`,
    here: 'packs',
    code,
    known: `${known.fill} in ${material}, ${brix.toFixed(1)} °Bx${pack.body.densityReading ? ' as read' : ', the minimum of your place'}.`,
    views: fieldViews(fillCalculator.fields, {
      posted,
      measures,
      names: fieldNames,
      faults: refusal && 'faults' in refusal ? (refusal.faults ?? []) : [],
    }),
    summary: notCalculated(problemView(refusal, fillCalculator.fields)),
    answer:
      answer && !('problem' in answer)
        ? { ...answer, ...mixedReading(answer.figures, measures.temperatures) }
        : undefined,
  };
}

const notCalculated = (problem: ProblemView | undefined): ProblemView | undefined =>
  problem && { ...problem, title: 'Not calculated: check the fields below' };

const mixedReading = (figures: Readonly<Record<string, unknown>>, unit: 'F' | 'C') => ({
  reading: `${Number(figures[`mixed${unit}`]).toFixed(1)} °${unit}`,
  passes: figures['passes'] === true,
});
