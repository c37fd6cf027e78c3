import { addHouse } from '#libs/actions/accounts/add-house.js';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { loadJudgingContext, judgeLotNow } from '#libs/actions/judging/judge-now.js';
import { record } from '#libs/actions/record/record.js';
import { findLot, findRecord, type Lot } from '#libs/store/queries/lots.js';
import type { AcceptedFinding } from '#libs/syrup/rules/accept-findings.js';
import { clearanceOf } from '#libs/syrup/rules/rules.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import { type Acceptable, accepting } from '../verdicts/accepted-cases.js';
import { apiChannel, type EntryChannel } from '../verdicts/entry-channels.js';
import { pack, type Step, stepsOf } from '../verdicts/verdict-case.js';
import type { TestServer } from './server.js';
import { done, writeContext } from './sugarhouse.js';

/** The book of a test, and its clock. */
type BookOfTest = Pick<TestServer, 'book' | 'clock'>;

/** A lot in a house of its own, and what tests do with it. */
export interface LotOfCase {
  readonly house: string;
  readonly code: string;
  readonly channel: EntryChannel;
  lot(): Promise<Lot | undefined>;
  /** Enters the steps; one that is refused throws. */
  take(steps: readonly Step[]): Promise<void>;
}

let houses = 0;
let again = 0;

/** A house with the steps of a case entered through the API: its lot is held, not yet released. */
export async function heldLot(at: TestServer, of: Acceptable): Promise<LotOfCase> {
  const house = `accepted-${++houses}`;
  const place = {
    town: 'Harrow Notch, Vermont',
    place: 'Vermont',
    hydrometerMadeFor: '60-F',
    zone: 'America/New_York',
    prefix: `A${houses}`,
  };
  done(await addHouse(at.book, writeContext(), house, { name: `Tamarack Hollow ${houses}`, ...place, ...of.house }));
  const { key } = done(await addKey(at.book, house, { name: 'sheet', role: 'owner' }, at.clock.now));
  const channel = apiChannel({ at, cookie: '', key });
  const take = async (steps: readonly Step[]): Promise<void> => {
    for (const step of steps) {
      const answer = await channel.take(step);
      if (!answer.taken) throw new Error(`${JSON.stringify(step)}: ${answer.text}`);
    }
  };
  await take(stepsOf({ state: 'held', ...of }));
  const code = of.lot ?? pack;
  return { house, code, channel, take, lot: () => findLot(sugarhouseReader(at.book.read, house), code) };
}

/** The lot as its rules judge it now: its findings name their identity. */
export const judgedNow = async (
  at: BookOfTest,
  { house, code }: Pick<LotOfCase, 'house' | 'code'>,
): Promise<Lot | undefined> => judgeLotNow(await loadJudgingContext(at.book.read, contextIn(at, house)), code);

const contextIn = (at: BookOfTest, house: string) => writeContext({ sugarhouse: house, now: at.clock.now });

/** What a release may accept of a lot's findings. */
export const acceptableIn = (lot: Lot | undefined): readonly Finding[] =>
  (lot?.verdict?.findings ?? []).filter(({ stop, rule }) => stop && clearanceOf(rule) !== 'evidence');

/** Appends the release that another version of the program wrote: with these findings accepted, in its own words. */
export async function releasedElsewhere(
  at: BookOfTest,
  held: LotOfCase,
  accepted: readonly Pick<AcceptedFinding, 'rule' | 'found' | 'evidence' | 'jars'>[],
): Promise<void> {
  const { house, code } = held;
  const { by, author } = contextIn(at, house);
  const { heldSince, verdict } = (await held.lot()) ?? {};
  const moment = '2026-04-30T09:00:00-04:00';
  const acceptance = { authority: 'the agency', askedAt: '2026-04-29', answer: 'it may be sold' };
  await at.book.write(async (tx) => ({
    entry: await tx.append({
      format: 1,
      sugarhouse: house,
      entryType: 'release',
      by,
      author,
      happenedAt: moment,
      typedAt: moment,
      key: `release ${++again}`,
      sent: '',
      about: [code],
      judged: [{ lot: code, state: 'released', heldSince, ...(verdict ? { verdict } : {}) }],
      said: { accepted: accepted.map((each) => ({ ...each, ...acceptance })) },
      why: 'looked into, all well',
    }),
  }));
}

/** Corrects a field that says nothing about any finding, so that the lot is judged again and the verdict stored. */
export async function judgedAgain(at: BookOfTest, { house, code }: Pick<LotOfCase, 'house' | 'code'>): Promise<void> {
  const reader = sugarhouseReader(at.book.read, house);
  const kind = (await findLot(reader, code))?.kind === 'boil' ? 'boil' : 'pack';
  const typed = (await findRecord(reader, kind, code))?.typed ?? {};
  const changed =
    kind === 'boil' ? { filterMedium: `felt cone ${++again}` } : { containerPrep: `boiled ${++again} min` };
  const correction = { of: code, why: 'written too short' };
  done(await record(at.book, contextIn(at, house), kindByName.get(kind)!, { ...typed, ...changed }, correction));
}

/** A lot's status, what holds it and what a release accepted, in their words. */
export const standing = (lot: Lot | undefined) => {
  const findings = lot?.verdict?.findings ?? [];
  const words = (some: readonly Finding[]) => some.map(({ rule, found }) => ({ rule, found }));
  return {
    state: lot?.state,
    holds: words(findings.filter(({ stop }) => stop)),
    accepted: words(findings.filter(({ accepted }) => accepted)),
  };
};

/** The same, released with a reason and an authority's answer. */
export async function releasedLot(at: TestServer, of: Acceptable): Promise<LotOfCase> {
  const held = await heldLot(at, of);
  await held.take([accepting(held.code)]);
  return held;
}
