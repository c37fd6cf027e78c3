import { findRecord } from '#libs/store/queries/lots.js';
import { choice, optional, moment, required, withDefault, ownId, signature, text, freeText } from '../record/fields.js';
import { kind } from '../record/kind.js';
import { invalid } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';
import { packsOfSameBoils } from '../facts/spoilage-facts.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * The answer to a question raised by free text: no opens the lot at once, yes holds it until its jars are inspected.
 */
export const answerFields = {
  id: optional(ownId, { label: 'Id', hint: 'Leave blank for the next one' }),
  at: optional(moment, { label: 'When', example: '2026-03-01T09:00', hint: 'If blank, now' }),
  by: withDefault(signature, '', { label: 'By', example: 'WE' }),
  lot: required(text, { label: 'Lot', example: '26077A-1' }),
  question: freeText({
    label: 'Question',
    hint: 'Worded as in the finding. If blank, the answer is to every open question of the lot',
  }),
  answer: required(choice('no', 'yes'), {
    label: 'Answer',
    choices: ['no', 'yes'],
    hint: 'Inspect it first. “No” opens the lot; “yes” holds it until other jars are inspected and counted',
  }),
  note: freeText({ label: 'Note' }),
};

export const answers = kind({
  kind: 'answer',
  plural: 'answers',
  noun: 'answer',
  fields: answerFields,
  idFields: ['id'],
  prepare: async ({ reader, first }, { body }, before) => {
    const namedLot = await lookUpLot(reader, body.lot);
    if (!namedLot) return invalid('lot', 'a lot of this book', `"${body.lot}"`);
    const open = (namedLot.verdict?.findings ?? []).filter(({ stop, rule }) => stop && isQuestion(rule));
    const matching = body.question === '' ? open : open.filter(({ found }) => found === body.question);
    const saved = (before?.body as { questions?: readonly string[] } | undefined)?.questions;
    // A question that isn't open may be answered too: an answer counts only for what was written before it.
    const questions = saved ?? (body.question === '' ? matching.map(({ found }) => found) : [body.question]);
    if (questions.length === 0) return invalid('question', 'an open question about the lot', 'a lot without one');
    // Stored with the lot whose text raised the question, so that it counts for every pack that the text holds.
    const lot = before?.lot ?? (await findLotOfRecord(reader, matching[0]?.about)) ?? namedLot.code;
    return {
      id: body.id ?? before?.id ?? '',
      lot,
      happenedAt: body.at ?? first.at,
      body: { ...body, lot, questions, at: body.at ?? first.at, by: body.by || first.by },
      about: [...new Set([lot, namedLot.code])],
      judge: await packsOfSameBoils(reader, lot),
      notes:
        before || matching.length > 0
          ? []
          : [`No open question about ${namedLot.code} reads like this one, so the answer opens nothing.`],
    };
  },
});

/** Whether the rule's findings are questions that a yes or no answers. */
export const isQuestion = (rule: string): boolean =>
  [
    'spoilage-question',
    'harm-question',
    'note-question',
    'container-question',
    'thin-syrup-question',
    'unit-question',
  ].includes(rule);

async function findLotOfRecord(reader: SugarhouseReader, about = ''): Promise<string | undefined> {
  const [recordKind, id = ''] = about.split('/');
  if (recordKind === 'pack' || recordKind === 'boil') return id;
  if (recordKind !== 'complaint' && recordKind !== 'action') return undefined;
  return (await findRecord(reader, recordKind, id))?.lot;
}
