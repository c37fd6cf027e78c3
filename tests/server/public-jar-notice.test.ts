import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { packs } from '#libs/actions/kinds/pack.js';
import { record } from '#libs/actions/record/record.js';
import { dispatches } from '#libs/actions/kinds/dispatch.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { publish } from '../../apps/cli/commands/publish.js';
import { startServer, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let at: TestServer;
let day: Awaited<ReturnType<typeof writeDay>>;
beforeAll(async () => {
  at = await startServer();
  day = await writeDay(at);
}, 60_000);
afterAll(() => at.close());

const writeContext = () => ({
  sugarhouse: 'home',
  by: 'WE',
  author: 'WE',
  now: at.clock.now,
  zone: 'America/New_York',
});
const done = <T extends object>(answer: T): T => {
  if ('problem' in answer) throw new Error(JSON.stringify(answer.problem));
  return answer;
};
const sent = async (jars: string, kind: string, sentAt: string) =>
  done(await record(at.book, writeContext(), dispatches, { lot: day.pack, jars, kind, sentAt, to: 'the stall' }));
const publicPage = async (n: number) => (await at.web.inject(`/J/${day.jars[n - 1]}`)).body;
const notice = (html: string) => /<h2>([^<]*)<\/h2>/.exec(html)?.[1];

test('the page of a scanned jar begins with returned, destroyed or held, what to do and whom to call', async () => {
  await sent(day.jars[0]!, 'returned', '2026-03-20T10:00');
  await sent(day.jars[1]!, 'destroyed', '2026-03-20T10:05');
  const typed = (await findRecord(sugarhouseReader(at.book.read, 'home'), 'pack', day.pack))?.typed;
  const fillTemps = '186 F jars 1-8;176 F jars 9-16;185 F jars 17-30';
  done(
    await record(at.book, writeContext(), packs, { ...typed, fillTemps }, { of: day.pack, why: 'from the fill sheet' }),
  );
  const notices = await Promise.all([1, 2, 3, 9, 16, 17].map(async (n) => notice(await publicPage(n))));
  expect(notices).toEqual(['RETURNED', 'RECORDED AS DESTROYED', undefined, 'HELD', 'HELD', undefined]);
  const held = await publicPage(9);
  expect(held.indexOf('HELD</h2>')).toBeLessThan(held.indexOf('<main>'));
  expect(held).toMatch(/Do not eat this syrup for now[^]*tel:8025550100/);
  expect(held).not.toContain('176');
});

test('the pages published elsewhere have the same notice for each jar', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'boilbook-jars-'));
  try {
    const bench = { argv: [folder], options: {}, writeContext: writeContext(), book: () => Promise.resolve(at.book) };
    done(await publish.run(bench as never));
    const published = (n: number) => readFile(join(folder, 'J', day.jars[n - 1]!, 'index.html'), 'utf8');
    const notices = await Promise.all([1, 2, 3, 9, 17].map(async (n) => notice(await published(n))));
    expect(notices).toEqual(['RETURNED', 'RECORDED AS DESTROYED', undefined, 'HELD', undefined]);
  } finally {
    await rm(folder, { recursive: true });
  }
});
