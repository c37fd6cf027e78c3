import { describe, expect, test } from '@jest/globals';
import { findRecord } from '#libs/store/queries/lots.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';
import { apiSuite } from '../support/api-suite.js';
import { engines } from '../support/engines.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

describe('a pack of another product, on its pages', () => {
  const here = recallSuite();
  const { open, send, state, aPack } = here;

  test('is entered in the form for a pack or by a correction, and its page says what it is and whom to ask', async () => {
    expect((await open('/packs/begin')).body).toContain('name="product" value="barrel-aged"');
    expect((await open('/packs/finished')).body).toContain('name="product" value="infused"');
    const pack = await aPack(here.boil);
    const correct = `/records/pack/${pack}/correct`;
    await send(correct, {
      ...hiddenFieldsIn((await open(correct)).body),
      why: 'from the cask',
      product: 'barrel-aged',
    });
    expect((await findRecord(sugarhouseReader(here.at.book.read, 'home'), 'pack', pack))?.body.product).toBe(
      'barrel-aged',
    );
    const { body } = await open(`/lots/${pack}`);
    expect(body).toContain('Product other than pure maple syrup');
    expect(body).toContain('A barrel gives water, alcohol');
  });

  test('can’t be released by a maker, who is shown what an owner has to enter', async () => {
    const pack = await aPack(here.boil, { product: 'candy' });
    const url = `/lots/${pack}/release`;
    const form = await open(url);
    for (const name of ['why', 'authority', 'askedAt', 'answer']) expect(form.body).toContain(`name="${name}"`);
    const answer = { why: 'as agreed', authority: 'the agency', askedAt: '2026-03-20', answer: 'yes' };
    const refused = await send(url, { ...hiddenFieldsIn(form.body), ...answer });
    expect([refused.statusCode, await state(pack)]).toEqual([409, 'held']);
    expect(refused.body).toContain('Only an owner may release it');
    const plain = await open(`/lots/${await aPack(here.boil)}/release`);
    expect(plain.body).not.toContain('name="authority"');
  });
});

describe.each(engines())('a pack of another product, over /api, on $name', (engine) => {
  const keyed = apiSuite(engine);
  const { get: request, sent } = keyed;

  test('is held, is released by an owner with the authority’s answer, and gets no label', async () => {
    const release = `/api/lots/${keyed.day.pack}/release`;
    const correction = await sent('/api/corrections', {
      entry: keyed.day.pack,
      why: 'infused',
      changes: { product: 'infused' },
    });
    expect(correction.statusCode).toBe(201);
    const answer = { why: 'as agreed', authority: 'the agency', askedAt: '2026-03-20', answer: 'yes' };
    expect((await sent(release, answer)).statusCode).toBe(409);
    expect((await sent(release, { why: 'as agreed' }, {}, 'owner')).statusCode).toBe(422);
    expect((await sent(release, answer, {}, 'owner')).statusCode).toBe(201);
    const now = (await request(`/api/lots/${keyed.day.pack}`)).json<{ status: string; findings: object[] }>();
    const accepted = { authority: 'the agency', askedAt: '2026-03-20', answer: 'yes' };
    expect(now.status).toBe('released');
    expect(now.findings[0]).toMatchObject({ rule: 'outside-these-rules', stop: false, accepted });
    const labels = await request(`/api/lots/${keyed.day.pack}/labels.pdf`);
    expect([labels.statusCode, labels.json<{ detail: string }>().detail]).toEqual([
      409,
      expect.stringContaining('no syrup label'),
    ]);
  });
});
