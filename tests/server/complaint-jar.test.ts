import { describe, expect, test } from '@jest/globals';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';
import { apiSuite } from '../support/api-suite.js';
import { sqlite } from '../support/engines.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findLot } from '#libs/store/queries/lots.js';

const here = recallSuite();
const { open, send, state, aPack, firstJar, records, entries } = here;
const form = '/supporting-records/complaints/new';
const complain = async (fields: Record<string, string>) =>
  send(form, { ...hiddenFieldsIn((await open(form)).body), said: 'mould on top', ...fields });
const cookieOf = (initials: string): string => here.cookies[initials] ?? '';
const newest = async () => (await records('complaint')).at(-1);

describe('the jar that a complaint names', () => {
  test('holds the lot of the jar where no lot is named', async () => {
    const pack = await aPack(here.boil);
    const code = await firstJar(pack);
    expect((await complain({ jar: code.toLowerCase(), mould: 'yes', came: 'sealed' })).statusCode).toBe(303);
    expect([await state(pack), (await newest())?.body]).toMatchObject([
      'held',
      { lot: pack, jar: printedJarCode(code) },
    ]);
  });

  test('is refused where it is a jar of another lot, and neither lot changes', async () => {
    const [pack, other] = [await aPack(here.boil), await aPack(here.boil)];
    const before = await entries();
    const answer = await complain({ lot: other, jar: await firstJar(pack) });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain(`which is of ${pack}`);
    expect([await entries(), await state(pack), await state(other)]).toEqual([before, 'open', 'open']);
  });

  test.each<[string, string]>([
    ['77', ''],
    ['7', 'lot'],
    ['the big one', 'lot'],
    ['K7QM-3XWT', 'lot'],
    ['K7QM-3XWT', ''],
  ])('“%s” is refused where it names no jar of the book', async (jar, lot) => {
    const pack = await aPack(here.boil);
    const answer = await complain({ jar, ...(lot ? { lot: pack } : {}) });
    expect([answer.statusCode, await state(pack)]).toEqual([422, 'open']);
    expect(answer.body).toContain('href="#f-jar"');
  });

  test('may be a number of the lot’s jars', async () => {
    const pack = await aPack(here.boil);
    const answer = await complain({ lot: pack, jar: 'jar 6' });
    expect([answer.statusCode, answer.headers['location']]).toEqual([303, `/lots/${pack}`]);
    expect(await state(pack)).toBe('held');
  });

  test('is listed on Today while the complaint names no lot, until somebody names one', async () => {
    const pack = await aPack(here.boil);
    const saved = await complain({ said: 'mould, the label was soaked off' });
    const id = (await newest())?.id ?? '';
    const cookies = [cookieOf('WE'), ...[saved.headers['set-cookie']].flat().map((each) => String(each).split(';')[0])];
    const after = await here.at.web.inject({
      url: String(saved.headers.location),
      headers: { cookie: cookies.join('; ') },
    });
    expect(after.body).toContain('It names no lot and no jar, so it holds nothing');
    expect((await open('/')).body).toContain('mould, the label was soaked off');
    const correct = `/records/complaint/${id}/correct`;
    expect((await open('/')).body).toContain(`href="${correct}"`);
    await send(correct, { ...hiddenFieldsIn((await open(correct)).body), why: 'found the jar', lot: pack });
    expect([await state(pack), (await open('/')).body.includes(correct)]).toEqual(['held', false]);
  });

  // Last, since it holds every pack of the boil.
  test('may be a jar of a pack of the boil that the complaint names', async () => {
    const pack = await aPack(here.boil);
    expect((await complain({ lot: here.boil, jar: await firstJar(pack) })).statusCode).toBe(303);
    expect(await state(pack)).toBe('held');
  });
});

test('a complaint over /api is laid to the lot of its jar', async () => {
  const keyed = api;
  const [jar = ''] = keyed.day.jars;
  const sent = { jar, said: 'mould on top', mould: 'yes', came: 'sealed' };
  expect((await keyed.sent('/api/complaints', { ...sent, lot: keyed.day.cold })).statusCode).toBe(422);
  expect((await keyed.sent('/api/complaints', { ...sent, jar: '77' })).statusCode).toBe(422);
  const reader = sugarhouseReader(keyed.at.book.read, 'home');
  expect((await findLot(reader, keyed.day.pack))?.state).toBe('open');
  expect((await keyed.sent('/api/complaints', sent)).statusCode).toBe(201);
  expect((await findLot(reader, keyed.day.pack))?.state).toBe('held');
});
const api = apiSuite(sqlite());

test('after “yes” to a complaint of glass, the main button of a pack with sold jars is its recall', async () => {
  const pack = await aPack(here.boil, { sealsFailed: '0', sealsAt: '2026-03-20T09:00' });
  await here.write('dispatches', {
    lot: pack,
    jars: '2',
    sentAt: '2026-03-20T10:00',
    to: 'June Pascoe',
    by: 'WE',
    alreadyLeft: 'yes',
  });
  expect((await complain({ lot: pack, said: 'a piece of glass in the jar', came: 'opened-cold' })).statusCode).toBe(
    303,
  );
  const question = (await findLot(sugarhouseReader(here.at.book.read, 'home'), pack))?.verdict?.findings.find(
    ({ rule }) => rule === 'harm-question',
  );
  await send(`/lots/${pack}/answer`, { question: question?.found ?? '', answer: 'yes' });
  const { body } = await open(`/lots/${pack}`);
  expect(body).toMatch(
    new RegExp(`class="main-action next-action" href="/lots/${pack}/recall"[^>]*>Recall: \\d+ jars? out<`),
  );
  expect(body).toContain('Ask your authority whether to recall those sent out.');
  expect(body).not.toContain('with the new readings');
});
