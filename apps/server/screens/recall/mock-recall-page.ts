import { count, optional, type Fields } from '#libs/actions/record/fields.js';
import { findMockRecall } from '#libs/actions/practice/mock-recall.js';
import { loadJar } from '#libs/actions/lots/trace-lot.js';
import { unknown } from '#libs/actions/record/problem.js';
import { momentIn } from '#libs/actions/record/times.js';
import { textIn } from '#libs/records/kinds/supporting-record.js';
import { recordsOf } from '#libs/store/queries/lots.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { elapsed, momentText } from '../../text/times.js';
import { lotTracePage } from '../trace/trace-pages.js';

const shelfField: Fields = {
  onShelf: optional(count, {
    label: 'Jars of this lot on the shelf, counted now',
    hint: 'Count them now. If blank, the exercise is saved as not counted, and the season still needs a mock recall. This count is for the exercise only; record a real one under Count the shelf',
  }),
};

/** Earlier mock recalls, and the one still running. */
export async function mockRecallsPage(principal: Principal) {
  const { parseOptions: options } = await formContext(principal);
  return {
    ...pageBase,
    running: undefined,
    earlier: await recentMockRecalls(principal, momentIn(options.zone, principal.writeContext.now)),
  };
}

/** The jar picked, its trace in both directions, and the clock. */
export async function runningMockRecallPage(principal: Principal, id: string, sent: SubmittedForm = {}) {
  const mockRecall = await findMockRecall(principal.book, principal.writeContext, id);
  if ('problem' in mockRecall) return mockRecall;
  if (mockRecall.closed && !sent.problem) return mockRecallsPage(principal);
  const houseContext = await formContext(principal);
  const now = momentIn(houseContext.parseOptions.zone, principal.writeContext.now);
  const since = momentIn(houseContext.parseOptions.zone, new Date(mockRecall.sinceMs));
  const jar = (await loadJar(readerOf(principal), mockRecall.jar))?.jar;
  if (!jar) return unknown('jar', mockRecall.jar);
  const lot = await lotTracePage(principal, jar.pack);
  if ('problem' in lot) return lot;
  return {
    ...pageBase,
    earlier: [],
    running: {
      id,
      jar: printedJarCode(jar.code),
      pack: jar.pack,
      since,
      // Without script the clock shows the time at which the page was drawn.
      elapsed: elapsed(since, now),
      upstream: { shares: lot.shares, boils: lot.boils, gatherings: lot.gatherings },
      dispatches: lot.dispatches,
      jars: lot.jars,
      problem: problemView(sent.problem, shelfField),
      fields: formGroups(shelfField, [{ names: ['onShelf'] }], houseContext, sent)[0]?.fields ?? [],
    },
  };
}

const pageBase = { title: 'Mock recall', here: 'season' };

async function recentMockRecalls(principal: Principal, now: string) {
  const all = await recordsOf(readerOf(principal), 'practice-recall');
  return all
    .reverse()
    .slice(0, 20)
    .map(({ id, body }) => ({
      id,
      when: momentText(body.at, now),
      jar: textIn(body, 'jar'),
      closed: Boolean(body['result']),
      seconds: Number(body['seconds'] ?? 0),
      result: textIn(body, 'result'),
      by: body.by,
    }));
}
