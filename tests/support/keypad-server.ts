import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll } from '@jest/globals';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findRecord, recordsOf } from '#libs/store/queries/lots.js';
import { writeEvening } from './evening-scenario.js';
import { owner, setUp } from './newcomer.js';
import { posted, signedIn, startServer, type TestServer } from './server.js';

/** A server with an evening's work and a pack begun, for a suite that types readings on its pad. */
export function keypadServer() {
  let server: TestServer;
  let cookie = '';
  let pack = '';
  const send = (url: string, fields: Record<string, string>) =>
    posted(server, url, { _once: randomUUID(), ...fields }, { cookie });
  beforeAll(async () => {
    server = await startServer();
    await setUp(server);
    await writeEvening(server);
    cookie = await signedIn(server, 'WE', owner.password);
    const boil = (await recordsOf(sugarhouseReader(server.book.read, 'home'), 'boil'))[0]?.id ?? '';
    const begun = await send('/packs/begin', {
      'fromLots~more': `${boil}:0.5 gal`,
      container: 'glass jar 8 fl oz',
      'packedAt~ago': 'now',
    });
    pack = /\/lots\/([^#]+)/.exec(String(begun.headers['location']))?.[1] ?? '';
  });
  afterAll(() => server.close());

  return {
    // Both are there once the suite has begun, so they are read where they are used.
    get server() {
      return server;
    },
    get cookie() {
      return cookie;
    },
    get pack() {
      return pack;
    },
    /** Posts a form as the owner. */
    send,
    /** Sends a temperature in °F from the pad. */
    fill: (temperature: string, more: Record<string, string> = {}) =>
      send(`/packs/${pack}/fill`, { temperature, 'temperature~unit': 'F', ...more }),
    /** The pack's readings as stored. */
    fills: async () =>
      (await findRecord(sugarhouseReader(server.book.read, 'home'), 'pack', pack))?.body.fillTemps ?? [],
  };
}
