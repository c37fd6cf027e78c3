import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { hashOfToken, newToken } from '#libs/actions/accounts/tokens.js';
import { saveKey } from '#libs/store/household/household-tokens.js';
import { engines } from '../support/engines.js';
import { owner, setUp } from '../support/newcomer.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';

/** A key signs with its name, so no key may be named like a person's initials. */
describe.each(engines())('on $name', (engine) => {
  let at: TestServer;
  let cookie = '';
  beforeAll(async () => {
    await engine.start();
    at = await startServer({}, { engine });
    await setUp(at);
    cookie = await signedIn(at, 'WE', owner.password);
  }, 60_000);
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });

  let n = 0;
  const onPeople = (path: string, fields: Record<string, string>) => posted(at, `/people${path}`, fields, { cookie });
  const sap = { source: 'North slope', volume: '80 gal', gatheredAt: '2026-03-19T15:00' };
  const byKey = (key: string, url: string, payload: object) =>
    at.web.inject({ method: 'POST', url, payload, headers: { authorization: `Bearer ${key}` } });

  test.each(['WE', 'we'])('no key is named %s, as a person has these initials', async (name) => {
    const { body } = await onPeople('/keys', { name, role: 'helper' });
    expect(body).toContain(`${name} are the initials of a person`);
    expect(body).not.toMatch(/<code class="code">[\w-]{43}</);
  });

  test.each(['pad', 'PAD'])(
    'no new person has the initials %s, as a key has this name, also once it has ended',
    async (initials) => {
      await onPeople('/keys', { name: 'pad', role: 'helper' });
      const person = { initials, name: 'Pat', role: 'maker', password: 'tin cup on a nail' };
      expect((await onPeople('', person)).body).toContain(`${initials} is the name of a key`);
      await onPeople('/keys/end', { name: 'pad' });
      expect((await onPeople('', person)).body).toContain(`${initials} is the name of a key`);
      expect((await posted(at, '/sign-in', { initials, password: person.password })).statusCode).toBe(422);
    },
  );

  test.each(['WE', 'we'])(
    'a key that an older version let be named %s signs as the key, not as the person',
    async (name) => {
      const key = newToken();
      const saved = { tokenHash: hashOfToken(key), name, role: 'helper' as const, madeAt: at.clock.now.toISOString() };
      await at.book.writeHousehold((sql) => saveKey({ sql, sugarhouse: 'home' }, saved));
      const id = `K${n++}`;
      expect((await byKey(key, '/api/gatherings', { ...sap, id, by: 'WE' })).statusCode).toBe(422);
      expect((await byKey(key, '/api/gatherings', { ...sap, id })).statusCode).toBe(201);
      const history = await at.web.inject({ url: `/api/lots/${id}/history`, headers: { cookie } });
      expect(history.json<{ entries: object[] }>().entries[0]).toMatchObject({ by: `key ${name}` });
      // Nor does it undo what the person wrote.
      const own = await posted(at, '/sap/gather', { ...sap, id: `P${n++}`, _once: `own-${n}` }, { cookie });
      const entry = /boilbook-undo=(\d+)/.exec(String(own.headers['set-cookie']))?.[1];
      const undone = await at.web.inject({
        method: 'POST',
        url: `/undo/${entry}`,
        payload: '',
        headers: { authorization: `Bearer ${key}`, 'content-type': 'application/x-www-form-urlencoded' },
      });
      expect(undone.statusCode).toBe(403);
      await onPeople('/keys/end', { name });
      expect((await byKey(key, '/api/gatherings', { ...sap, id: `K${n++}` })).statusCode).toBe(401);
      // The person may still be changed.
      expect((await onPeople('', { initials: 'WE', name: 'Wren Ellery', role: 'owner' })).statusCode).toBe(303);
    },
  );
});
