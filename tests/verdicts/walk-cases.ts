import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addHouse } from '#libs/actions/accounts/add-house.js';
import { addKey, addPerson } from '#libs/actions/accounts/accounts.js';
import { startSession } from '#libs/actions/accounts/sign-in.js';
import { findLot, type Lot } from '#libs/store/queries/lots.js';
import { writeContext, done, recordOrThrow } from '../support/sugarhouse.js';
import type { Engine } from '../support/engines.js';
import { startServer, type TestServer } from '../support/server.js';
import { acceptingAttacks } from './adversarial-accepting.js';
import { contentsAttacks, contentsSlips } from './adversarial-contents.js';
import { heatAttacks, heatSlips } from './adversarial-heat.js';
import { leavingAttacks, leavingSlips } from './adversarial-leaving.js';
import { apiChannel, type EntryChannel, importChannel, pageChannel } from './entry-channels.js';
import { freshSlips, mustHoldFresh } from './fresh-cases.js';
import { undoingAttacks } from './adversarial-undoing.js';
import { undoingSlips } from './must-open-undoing.js';
import { mustHoldBook } from './must-hold-book.js';
import { acceptingSlips } from './must-open-accepting.js';
import { soundLeaving } from './must-open-leaving.js';
import { soundCases } from './must-open-cases.js';
import { mustHoldContents } from './must-hold-contents.js';
import { mustHoldHeat } from './must-hold-heat.js';
import { sampleOf } from './case-sample.js';
import { labelAttacks, labelSlips } from './sent-label-cases.js';
import { stockAttacks, stockSlips } from './stock-cases.js';
import { pack, stepsOf, type VerdictCase } from './verdict-case.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const attacks = [
  ...heatAttacks,
  ...contentsAttacks,
  ...leavingAttacks,
  ...undoingAttacks,
  ...acceptingAttacks,
  ...stockAttacks,
  ...labelAttacks,
];
const slips = [
  ...heatSlips,
  ...contentsSlips,
  ...leavingSlips,
  ...undoingSlips,
  ...acceptingSlips,
  ...stockSlips,
  ...labelSlips,
];
export const traps = [...mustHoldHeat, ...mustHoldContents, ...mustHoldBook, ...mustHoldFresh, ...attacks];
export const sound = [...soundCases, ...soundLeaving, ...freshSlips, ...slips];

/** Every write looks through the houses of its book, and every house makes each later case slower. */
const housesInABook = 40;

/**
 * Registers a test for every case, by one way in on one engine. A file calls it once, so that the six combinations run
 * in parallel. `more` are cases of this way in alone; of those shared by all, only each `oneIn`-th runs, and where
 * `eachForm` is set those too that enter a field in a form of text that no case before enters.
 */
export function walkCases(
  way: EntryChannel['name'],
  engine: Engine,
  {
    more = [],
    oneIn = 1,
    eachForm = false,
  }: { readonly more?: readonly VerdictCase[]; readonly oneIn?: number; readonly eachForm?: boolean } = {},
): void {
  let at: TestServer | undefined;
  let houses = 0;
  beforeAll(() => engine.start());
  afterAll(async () => {
    await at?.close();
    await engine.stop();
  });

  async function withFreshBook(): Promise<TestServer> {
    await at?.close();
    at = await startServer({}, { engine, requestsPerMinute: 1_000_000 });
    at.clock.now = new Date('2026-05-01T22:00:00Z');
    await recordOrThrow(at.book, 'house', { prefix: 'TH' });
    return at;
  }

  /** A sugarhouse of its own: lots of one case never meet those of another. */
  async function houseFor(of: VerdictCase): Promise<{ at: TestServer; house: string }> {
    const server = at && houses % housesInABook > 0 ? at : await withFreshBook();
    const key = `case-${++houses}`;
    const result = {
      town: 'Harrow Notch, Vermont',
      place: 'Vermont',
      hydrometerMadeFor: '60-F',
      zone: 'America/New_York',
      prefix: `C${houses}`,
    };
    done(
      await addHouse(server.book, writeContext(), key, { name: `Tamarack Hollow ${houses}`, ...result, ...of.house }),
    );
    return { at: server, house: key };
  }

  const channels = {
    API: async (at: TestServer, house: string): Promise<EntryChannel> =>
      apiChannel({ at, cookie: '', key: await keyOf(at, house) }),
    import: async (at: TestServer, house: string): Promise<EntryChannel> =>
      importChannel({ at, cookie: '', key: await keyOf(at, house) }),
    page: async (at: TestServer, house: string): Promise<EntryChannel> => {
      const initials = `W${house.slice(5)}`;
      done(await addPerson(at.book, house, { initials, role: 'owner' }));
      // A session without a password: hashing one for each house would be most of a case's cost.
      const { token } = await startSession(at.book, house, { initials, device: 'a phone' }, at.clock.now);
      return pageChannel({ at, key: await keyOf(at, house), cookie: `boilbook=${token}` });
    },
  } as const;
  const keyOf = async (at: TestServer, house: string): Promise<string> =>
    done(await addKey(at.book, house, { name: 'sheet', role: 'owner' }, at.clock.now)).key;

  test.each([...sampleOf([...traps, ...sound], { oneIn, eachForm }), ...more])('$is', async (of) => {
    const { at, house } = await houseFor(of);
    const channel = await channels[way](at, house);
    const steps = stepsOf(of);
    // The refused step is the last one, or the making of the pack where that is impossible.
    let refusedWith: string | undefined;
    for (const [n, step] of steps.entries()) {
      const answer = await channel.take(step);
      if (answer.taken) continue;
      if (!of.refuses || n < steps.length - 1) throw new Error(`${JSON.stringify(step)} was refused: ${answer.text}`);
      refusedWith = answer.text;
    }
    const lot = await findLot(sugarhouseReader(at.book.read, house), of.lot ?? pack);
    expect(outcome(lot, of, refusedWith)).toEqual(expected(of));
  });
}

/** The expected outcome beside the actual one: a failure shows the whole difference at once. */
function outcome(lot: Lot | undefined, of: VerdictCase, refusedWith: string | undefined) {
  const findings = lot?.verdict?.findings ?? [];
  const holds = findings.filter(({ stop }) => stop);
  const text = findings.map(({ limit, found, wayOut }) => `${limit} ${found} ${wayOut ?? ''}`).join(' ');
  return {
    state: lot?.state,
    ...(of.rule ? { holds: holds.some(({ rule }) => rule === of.rule) || holds.map(({ rule }) => rule) } : {}),
    ...(of.advises
      ? { advises: findings.some(({ rule, stop }) => rule === of.advises && !stop) || findings.map(({ rule }) => rule) }
      : {}),
    ...(of.says ? { says: of.says.test(text) || text } : {}),
    ...(of.jars ? { jars: (lot?.verdict?.heldJars ?? []).map(({ from, to }) => [from, to]) } : {}),
    ...(of.refuses
      ? { refuses: refusedWith === undefined ? 'taken' : of.refuses.test(refusedWith) || refusedWith }
      : {}),
    // The sentence of a lot held by a rule says what may be done about it.
    remedies: lot?.state === 'held' ? holds.filter(({ wayOut }) => !wayOut).map(({ rule }) => rule) : [],
  };
}

const expected = (of: VerdictCase) => ({
  state: of.state,
  ...(of.rule ? { holds: true } : {}),
  ...(of.advises ? { advises: true } : {}),
  ...(of.says ? { says: true } : {}),
  ...(of.jars ? { jars: of.jars } : {}),
  ...(of.refuses ? { refuses: true } : {}),
  remedies: [],
});
