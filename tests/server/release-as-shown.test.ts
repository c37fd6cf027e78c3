import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { startSession } from '#libs/actions/accounts/sign-in.js';
import { done } from '../support/sugarhouse.js';
import { heldLot, type LotOfCase } from '../support/accepted-lots.js';
import { engines } from '../support/engines.js';
import { posted, startServer, type TestServer } from '../support/server.js';
import { check, correct, one } from '../verdicts/verdict-case.js';

/** A thermometer that reads 3 °F low makes a cold reading perhaps hot enough: a maker releases it with a reason. */
const perhaps = {
  is: 'a reading hot enough only as corrected',
  checks: [check('ice', '29 F', { id: 'CKI' }), check('boiling-water', '207.4 F', { id: 'CKB' })],
  pack: one('178 F@10:20#T1 jar 24'),
};
/** Another person corrects a thermometer check: the corrected reading is colder, but the lot has no new entry. */
const colder = correct('check', 'CKB', { reads: '208.2 F' });

describe.each(engines())('A release from a page, on $name', (engine) => {
  let at: TestServer;
  beforeAll(async () => {
    await engine.start();
    at = await startServer({}, { engine, requestsPerMinute: 1_000_000 });
    at.clock.now = new Date('2026-05-01T22:00:00Z');
  });
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });

  let people = 0;
  /** Somebody with the release form of the lot open. */
  async function withFormOf({ house, code }: LotOfCase) {
    const initials = `M${++people}`;
    done(await addPerson(at.book, house, { initials, role: 'maker' }));
    const { token } = await startSession(at.book, house, { initials, device: 'a phone' }, at.clock.now);
    const cookie = `boilbook=${token}`;
    const url = `/lots/${code}/release`;
    const hiddenIn = (html: string) =>
      Object.fromEntries(
        [...html.matchAll(/<input type="hidden" name="(_[a-z]+)" value="([^"]*)"/g)].map(([, name, value]) => [
          name ?? '',
          value ?? '',
        ]),
      );
    const { body } = await at.web.inject({ url, headers: { cookie } });
    const press = (hidden: Record<string, string>) =>
      posted(at, url, { ...hidden, why: 'two others read 182 F in the jar' }, { cookie });
    return { shown: body, hidden: hiddenIn(body), hiddenIn, press };
  }

  test('accepts what the page showed', async () => {
    const held = await heldLot(at, perhaps);
    const form = await withFormOf(held);
    expect(form.shown).toContain('181 °F after correction');
    expect((await form.press(form.hidden)).statusCode).toBe(303);
    expect((await held.lot())?.state).toBe('released');
  });

  test('accepts nothing where a check made it worse since: the page is shown again with what holds the lot now', async () => {
    const held = await heldLot(at, perhaps);
    const form = await withFormOf(held);
    await held.take([colder]);
    const refused = await form.press(form.hidden);
    expect([refused.statusCode, (await held.lot())?.state]).toEqual([409, 'held']);
    expect(refused.body).toContain('changed since this page was opened');
    expect(refused.body).toContain('180.33 °F after correction');
    // Read again, it is accepted with the second press.
    expect((await form.press(form.hiddenIn(refused.body))).statusCode).toBe(303);
    expect((await held.lot())?.state).toBe('released');
  });

  test('queued by a phone from an older page, without the mark of what was shown, is saved as before', async () => {
    const held = await heldLot(at, perhaps);
    const form = await withFormOf(held);
    const { _holds: _, ...older } = form.hidden;
    expect((await form.press(older)).statusCode).toBe(303);
    expect((await held.lot())?.state).toBe('released');
  });
});
