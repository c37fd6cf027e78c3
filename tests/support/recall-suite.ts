import { afterAll, beforeAll } from '@jest/globals';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { readHead } from '#libs/store/log/log.js';
import { findLot, jarsOfPack, recordsOf } from '#libs/store/queries/lots.js';
import type { Engine } from './engines.js';
import { startServer, posted, signedIn, type TestServer } from './server.js';
import { writeDay } from './season-server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A book with a day's work, a retained jar, a second boil to pack from, and a maker and a helper signed in. */
export function recallSuite(engine?: Engine) {
  let at: TestServer;
  let day: Awaited<ReturnType<typeof writeDay>>;
  let boil = '';
  let packed = 0;
  const cookies: Record<string, string> = {};

  const write = async (plural: string, sent: Record<string, unknown>): Promise<string> => {
    const context = { sugarhouse: 'home', by: 'OE', author: 'OE', now: at.clock.now, zone: 'America/New_York' };
    const done = await record(
      at.book,
      context,
      importKinds.find((each) => each.plural === plural)!,
      sent,
    );
    if ('problem' in done) throw new Error(JSON.stringify(done.problem));
    return done.id;
  };

  beforeAll(async () => {
    await engine?.start();
    at = await startServer({}, engine ? { engine } : {});
    day = await writeDay(at);
    await write('gatherings', secondGathering);
    boil = await write('boils', secondBoil);
    for (const [initials, role] of [
      ['WE', 'maker'],
      ['JP', 'helper'],
    ] as const) {
      const password = `steam over the roof of ${initials}`;
      const added = await addPerson(at.book, 'home', { initials, name: initials, role, password });
      if ('problem' in added) throw new Error(JSON.stringify(added.problem));
      cookies[initials] = await signedIn(at, initials, password);
    }
    await write('dispatches', { ...keptBack, lot: day.pack });
  }, 60_000);
  afterAll(async () => {
    await at.close();
    await engine?.stop();
  });

  return {
    // These three exist once the suite has started, so they are read where they are used.
    get at() {
      return at;
    },
    get day() {
      return day;
    },
    get boil() {
      return boil;
    },
    get clock() {
      return at.clock;
    },
    cookies,
    write,
    open: (url: string, initials = 'WE') => at.web.inject({ url, headers: { cookie: cookies[initials] ?? '' } }),
    send: (url: string, fields: Record<string, string>, initials = 'WE') =>
      posted(at, url, fields, { cookie: cookies[initials] ?? '' }),
    entries: async (): Promise<number> => (await readHead(at.book.read)).entries,
    records: <K extends RecordKind>(kind: K) => recordsOf(sugarhouseReader(at.book.read, 'home'), kind),
    state: async (lot: string) => (await findLot(sugarhouseReader(at.book.read, 'home'), lot))?.state,
    /** A pack of a lot that no rule holds. */
    aPack: (from: string, more: Record<string, unknown> = {}): Promise<string> =>
      write('packs', {
        ...soundPack,
        fromLots: [`${from}:50 fl oz`],
        packedAt: `2026-03-19T15:${10 + packed++}`,
        ...more,
      }),
    firstJar: async (pack: string): Promise<string> => {
      for await (const jar of jarsOfPack(sugarhouseReader(at.book.read, 'home'), pack)) return jar.code;
      throw new Error(`${pack} has no jars`);
    },
  };
}

/** The hidden fields of the page's last form, as a browser sends them back. */
export const hiddenFieldsIn = (html: string): Record<string, string> =>
  Object.fromEntries(
    [...html.matchAll(/<input type="hidden" name="(_\w+|jar|since)" value="([^"]*)"/g)].map((each) => [
      each[1] ?? '',
      each[2] ?? '',
    ]),
  );

const secondGathering = {
  id: 'G050',
  gatheredAt: '2026-03-18T16:00',
  source: 'lower lines',
  volume: '200 gal',
  by: 'JP',
};
const secondBoil = {
  beganAt: '2026-03-19T06:00',
  gatherings: ['G050:200 gal'],
  defoamer: 'none',
  filterTemp: '190 F',
  filterMedium: 'wool cone',
  syrupVolume: '5 gal',
  restedFrom: '2026-03-19T11:00',
  restedUntil: '2026-03-19T14:00',
  by: 'WE',
};
const soundPack = {
  hotPackTemp: '190 F',
  fillTemps: ['186 F'],
  densityReading: '60.4 Bx',
  densityBy: 'hydrometer',
  densityAt: '185 F',
  container: 'glass jar 8 fl oz',
  containerPrep: 'boiled 10 min',
  sealsFailed: '0',
  jars: '6',
  by: 'OE',
};
const keptBack = {
  jars: '1',
  sentAt: '2026-03-19T12:00',
  to: 'cellar shelf, left',
  kind: 'retained',
  by: 'OE',
};
