import { labelRefusal } from '#libs/actions/labels/plan-labels.js';
import { loadLabelCount, labelCountSentences } from '#libs/actions/labels/label-count.js';
import { kindNamed } from '#libs/actions/kinds/registry.js';
import { refused, unknown, type Refusal } from '#libs/actions/record/problem.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { jarRange } from '#libs/labels/layout/jar-range.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import { writeRecord } from '../../forms/write-record.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const labelRunKind = kindNamed('labels');

/** Printed labels that can't be used: smeared, crooked, stuck together. Held packs can have some too. */
export async function spoiledPage(principal: Principal, code: string, sent: SubmittedForm = {}) {
  const seen = await lastSeenFor(principal, sent.problem, code);
  const lot = await packWithJars(principal, code);
  if ('problem' in lot) return lot;
  const { read } = principal.book;
  const jars = lot.jars ?? 0;
  return {
    title: `Spoiled labels of ${lot.code}`,
    here: 'packs',
    crumb: { href: `/lots/${lot.code}`, text: lot.code },
    sentence: 'Which labels are spoiled. Tear them up: two labels with one code look like two jars when scanned.',
    notes: labelCountSentences(
      await loadLabelCount(sugarhouseReader(read, principal.writeContext.sugarhouse), lot.code, jars),
    ),
    cautions: [],
    form: {
      action: `/lots/${lot.code}/labels/spoiled`,
      submitLabel: 'Save spoiled labels',
      problem: problemView(sent.problem, labelRunKind.fields),
      ...seen,
      groups: formGroups(labelRunKind.fields, [{ names: ['from', 'to', 'note'] }], await formContext(principal), sent, {
        needed: ['from'],
      }),
    },
  };
}

/** Records spoiled labels, so that the counts of labels and jars agree. */
export async function recordSpoiled(
  principal: Principal,
  code: string,
  posted: Posted,
): Promise<{ lot: string; notes: string[] } | Refusal> {
  const lot = await packWithJars(principal, code);
  if ('problem' in lot) return lot;
  const from = firstText(posted['from']);
  const to = firstText(posted['to']) || from;
  if (/^\d{1,7}$/.test(from) && /^\d{1,7}$/.test(to)) {
    const range = jarRange(lot.jars ?? 0, Number(from), Number(to));
    if ('problem' in range) return labelRefusal(range.problem);
  } else if (from === '')
    return {
      problem: { kind: 'invalid', faults: [{ field: 'from', expected: 'the number of a jar', got: 'nothing' }] },
    };
  const answer = await writeRecord(principal, labelRunKind, { ...posted, to }, { lot: lot.code, what: 'spoiled' });
  if ('problem' in answer) return answer;
  const count = Number(to) - Number(from) + 1;
  return {
    lot: lot.code,
    notes: [
      count === 1 ? `The label of jar ${from} is recorded as spoiled.` : `${count} labels are recorded as spoiled.`,
    ],
  };
}

async function packWithJars(principal: Principal, code: string): Promise<Lot | Refusal> {
  const lot = await lookUpLot(readerOf(principal), code);
  if (!lot) return unknown('lot', code);
  if (lot.kind !== 'pack' || lot.jars === undefined)
    return refused('not-a-pack', `${lot.code} has no jars yet, so it has no labels.`);
  return lot;
}
