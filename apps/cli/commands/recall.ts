import { recallLots } from '#libs/actions/lots/recall-lots.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { suspectLots } from '#libs/actions/facts/suspect-lots.js';
import type { RecallNotes } from '#libs/actions/recall/recall-notes.js';
import { calledText, callList, callMadeText, callsOf, reachText } from '#libs/reports/recall/recall-calls.js';
import { recallDocument } from '#libs/actions/recall/recall-list.js';
import type { Recall } from '#libs/reports/recall/recall.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, type CommandOutput, optionText } from '../command.js';
import {
  documentOptionHelp,
  documentOptions,
  refuseWrongEnding,
  requestedPaper,
  writeDocument,
} from '../write-document.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export const recall: Command = {
  ...catalogueEntry('recall'),
  options: {
    ...documentOptions,
    why: 'text',
    thermometer: 'text',
    check: 'text',
    day: 'text',
    'only-list': 'flag',
    hazard: 'text',
    who: 'text',
    jars: 'text',
    paper: 'text',
  },
  optionHelp: {
    ...documentOptionHelp,
    thermometer:
      'Instead of LOT: every lot measured with this thermometer or hydrometer between its last passed check and the check it failed.',
    check: 'Instead of LOT: the same, by the id of the failed check.',
    day: 'Instead of LOT: every boil begun and every pack packed on this date, for example 2026-03-19.',
    why: 'The reason, printed on the list and the notice.',
    hazard: 'What in the jars can make somebody ill or injure them.',
    who: 'Who is at risk.',
    jars: 'What people should do with the jars.',
    paper: 'Paper: letter or a4. If left out, the usual one of the place.',
    'only-list': 'Writes the list without recalling the lots.',
  },
  run: async (cli) => {
    const out = optionText(cli, 'out') ?? '';
    const fault = await refuseWrongEnding(out, ['.pdf']);
    if (fault) return fault;
    const paper = requestedPaper(cli, '.pdf');
    if ('problem' in paper) return paper;
    const notes: RecallNotes = {
      hazard: optionText(cli, 'hazard') ?? '',
      whoMayBeHurt: optionText(cli, 'who') ?? '',
      whatToDo: optionText(cli, 'jars') ?? '',
    };
    const book = await cli.book();
    const from = await suspectLots(sugarhouseReader(book.read, cli.writeContext.sugarhouse), {
      lots: cli.argv,
      thermometer: optionText(cli, 'thermometer'),
      check: optionText(cli, 'check'),
      day: optionText(cli, 'day'),
    });
    if ('problem' in from) return from;
    const why = optionText(cli, 'why');
    // The list's file is opened before anything is recalled, since a recall without its list is useless.
    const recalled = await writeDocument(cli, async (file): Promise<Recall | Refusal> => {
      if (cli.options['only-list'] !== true) {
        const recallResult = await recallLots(book, cli.writeContext, from, why || 'reason not recorded', notes);
        if ('problem' in recallResult) return recallResult;
      }
      const list = await recallDocument(book, cli.writeContext, from, { why, members: true, paper: paper.name });
      if ('problem' in list) return list;
      await list.write(file);
      return list.recall;
    });
    if ('problem' in recalled) return recalled;
    return recallOutput(recalled, from, out);
  },
};

/** The figures of a recall as JSON, and the same as lines: who has its jars, and what must not be sent. */
function recallOutput(recalled: Recall, from: readonly string[], out: string): CommandOutput {
  const { lots, dispatches, plans } = recalled;
  const jars = jarsOfLots(lots);
  return {
    json: {
      lot: from.length === 1 ? from[0] : null,
      from,
      lots: lots.map((each) => each.lot),
      jars,
      reach: reachText(recalled),
      hazard: recalled.hazard,
      calls: callList(recalled),
      authorities: recalled.authorities,
      dispatches,
      plans,
      sameSyrup: recalled.sameSyrup,
      upstream: recalled.upstream,
      file: out,
    },
    lines: [
      `${from.join(', ')}: ${lots.length} ${lots.length === 1 ? 'pack' : 'packs'}, ${jars.made} ${jars.made === 1 ? 'jar' : 'jars'} made, ${jars.onHand} on hand, ${jars.sentOut} sent out.`,
      reachText(recalled),
      ...callsOf(recalled).map(
        (each) =>
          `  ${each.reached ? '[x]' : '[ ]'} ${calledText(each)}, ${each.telephone ?? each.contact ?? 'telephone not recorded'}${each.made.map((made) => `; called ${callMadeText(made)}`).join('')}`,
      ),
      ...dispatches.map((each) => `  ${each.jars} of ${each.lot} ${whereTo(each)}, ${each.sentAt.slice(0, 10)}`),
      ...recalled.sameSyrup.map(
        ({ lot, sources }) =>
          `  not on the list: ${lot}, from the same syrup (${sources.join(' and ')}); if the cause was in the syrup, recall it too`,
      ),
      ...plans.map(
        (each) => `  do not send: ${each.jars} of ${each.lot} planned for ${each.to}, ${each.sentAt.slice(0, 10)}`,
      ),
      out === '-' ? 'List written to standard output.' : `List written to ${out}.`,
    ],
  };
}

/** The jars of all lots together; those unaccounted for are null until a lot is counted. */
function jarsOfLots(lots: Recall['lots']) {
  const sum = (of: (each: (typeof lots)[number]) => number): number =>
    lots.reduce((total, each) => total + of(each), 0);
  return {
    made: sum((each) => each.jarsMade),
    onHand: sum((each) => each.jarsOnHand),
    sentOut: sum((each) => each.jarsSentOut),
    destroyed: sum((each) => each.jarsDestroyed),
    other: sum((each) => each.jarsOther),
    unaccounted: lots.every((each) => each.unaccounted === null) ? null : sum((each) => each.unaccounted ?? 0),
  };
}

/** Holders of jars are called; returned, kept or destroyed jars need no call. */
function whereTo({ kind, to, contact }: Recall['dispatches'][number]): string {
  if (kind === 'returned') return `returned from ${to}`;
  if (kind === 'sale' || kind === 'gift' || kind === 'sample') return `to ${to} (${contact ?? 'no contact recorded'})`;
  return `${kind}: ${to}`;
}
