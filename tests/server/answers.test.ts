import { describe, expect, test } from '@jest/globals';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { recallSuite } from '../support/recall-suite.js';
import { apiSuite } from '../support/api-suite.js';
import { sqlite } from '../support/engines.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The one-tap forms of a page: their addresses and hidden fields. */
const tapsIn = (html: string): { action: string; label: string; fields: Record<string, string> }[] =>
  [...html.matchAll(/<form method="post" action="([^"]+)" class="taps">(.*?)<button class="quiet">([^<]+)</gs)].map(
    ([, action = '', hidden = '', text = '']) => ({
      action,
      label: text,
      fields: Object.fromEntries(
        [...hidden.matchAll(/name="([^"]+)" value="([^"]*)"/g)].map(([, name = '', value = '']) => [name, value]),
      ),
    }),
  );

describe('a one-tap answer', () => {
  const here = recallSuite();
  const { open, send, state, aPack, write } = here;

  test('“no” to a text about mould opens the lot; a helper has no button and is refused', async () => {
    const pack = await aPack(here.boil, { note: 'something fuzzy round the rim' });
    expect(await state(pack)).toBe('held');
    expect(tapsIn((await open(`/lots/${pack}`, 'JP')).body)).toEqual([]);
    const [no, yes] = tapsIn((await open(`/lots/${pack}`)).body);
    expect([no?.label, yes?.label]).toEqual(['No, not spoilage', 'Yes, spoilage']);
    expect((await send(no!.action, no!.fields, 'JP')).statusCode).toBe(403);
    expect((await send(no!.action, no!.fields)).headers.location).toBe(`/lots/${pack}`);
    expect(await state(pack)).toBe('open');
    expect(tapsIn((await open(`/lots/${pack}`)).body)).toEqual([]);
  });

  test('“no” to a note that names an ingredient opens the lot', async () => {
    const pack = await aPack(here.boil, { note: 'with vanilla beans' });
    expect(await state(pack)).toBe('held');
    const page = (await open(`/lots/${pack}`)).body;
    expect(page).toContain('was anything put into the syrup?');
    expect(page).toContain(`<a class="main-action next-action" href="/lots/${pack}#findings">Answer the question</a>`);
    const [no, yes] = tapsIn(page);
    expect([no?.label, yes?.label]).toEqual(['No', 'Yes']);
    expect((await send(no!.action, no!.fields)).headers.location).toBe(`/lots/${pack}`);
    expect(await state(pack)).toBe('open');
  });

  test('the same bottle of defoamer is confirmed for the next boil, by a helper too', async () => {
    const boiled = {
      beganAt: '2026-03-19T13:00',
      gatherings: ['G050:40 gal'],
      filterTemp: '190 F',
      syrupVolume: '1 gal',
      by: 'WE',
    };
    await write('boils', {
      ...boiled,
      beganAt: '2026-03-19T05:00',
      defoamer: 'sunflower oil',
      defoamerAllergens: 'none',
    });
    const boil = await write('boils', { ...boiled, defoamer: 'Sunflower oil' });
    const pack = await aPack(boil);
    expect(await state(pack)).toBe('held');
    const [same] = tapsIn((await open(`/lots/${pack}`, 'JP')).body);
    expect(same?.label).toBe('Same bottle: allergens none');
    expect((await send(same!.action, same!.fields, 'JP')).headers.location).toBe(`/lots/${pack}`);
    const saved = await findRecord(sugarhouseReader(here.at.book.read, 'home'), 'boil', boil);
    expect([saved?.body.defoamerAllergens, await state(pack)]).toEqual(['none', 'open']);
  });
});

describe('an answer over /api', () => {
  const keyed = apiSuite(sqlite());

  test('answers an open question about the lot, by a maker; without an open question it is refused', async () => {
    const answer = { lot: keyed.day.pack, answer: 'no' };
    expect((await keyed.sent('/api/answers', answer)).statusCode).toBe(422);
    const complaint = { lot: keyed.day.pack, said: 'green mould under the lid' };
    expect((await keyed.sent('/api/complaints', complaint)).statusCode).toBe(201);
    expect((await findLot(sugarhouseReader(keyed.at.book.read, 'home'), keyed.day.pack))?.state).toBe('held');
    expect((await keyed.sent('/api/answers', answer, {}, 'helper')).statusCode).toBe(403);
    const other = await keyed.sent('/api/answers', { ...answer, question: 'harm-question' });
    expect([other.statusCode, other.json<{ notes: string[] }>().notes.join()]).toEqual([
      201,
      expect.stringContaining('No open question about'),
    ]);
    expect((await keyed.sent('/api/answers', answer)).statusCode).toBe(201);
    expect((await findLot(sugarhouseReader(keyed.at.book.read, 'home'), keyed.day.pack))?.state).toBe('open');
  });
});
