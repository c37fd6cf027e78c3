import { describe, expect, test } from '@jest/globals';
import { engines } from '../support/engines.js';
import { apiSuite, gathering } from '../support/api-suite.js';

describe.each(engines())('If-Match on $name', (engine) => {
  const keyed = apiSuite(engine);
  const tagOf = async (url: string): Promise<string> => String((await keyed.get(url, 'owner')).headers['etag']);
  const add = async (url: string, body: object, tag: string): Promise<number> =>
    (await keyed.sent(`${url}/additions`, { ...body, by: 'WE' }, { 'if-match': tag }, 'owner')).statusCode;

  test('a record of a lot is written with the ETag it was read with, whatever else was written about the lot', async () => {
    const { pack, jars } = keyed.day;
    const sale = { id: 'S900', lot: pack, jars: [jars[0]], sentAt: '2026-03-20T09:00', to: 'Millrace', kind: 'sale' };
    expect((await keyed.sent('/api/dispatches', sale)).statusCode).toBe(201);
    const tag = await tagOf('/api/dispatches/S900');
    expect((await keyed.sent('/api/dispatches', { ...sale, id: 'S901', jars: [jars[1]] })).statusCode).toBe(201);
    expect(await tagOf(`/api/lots/${pack}`)).not.toBe(tag);
    expect(await add('/api/dispatches/S900', { contact: '802 555 0177' }, tag)).toBe(201);
    expect(await add('/api/dispatches/S900', { contact: '802 555 0177' }, tag)).toBe(412);
    expect(await add('/api/dispatches/S900', { contact: '802 555 0177' }, await tagOf(`/api/lots/${pack}`))).toBe(200);
  });

  test('a record that belongs to no lot has a version too', async () => {
    const probe = { id: 'T900', what: 'thermometer' };
    expect((await keyed.sent('/api/instruments', probe, {}, 'owner')).statusCode).toBe(201);
    const tag = await tagOf('/api/instruments/T900');
    expect(await add('/api/instruments/T900', { made: 'digital, thin stem' }, tag)).toBe(201);
    expect(await add('/api/instruments/T900', { made: 'digital, thin stem' }, tag)).toBe(412);
    expect(
      await add(
        '/api/instruments/T900',
        { made: 'digital, thin stem' },
        `"1", ${await tagOf('/api/instruments/T900')}`,
      ),
    ).toBe(200);
  });

  test('a number that the book has not reached is no version of it: a backup may have been restored since', async () => {
    expect((await keyed.sent('/api/gatherings', { id: 'G910', ...gathering })).statusCode).toBe(201);
    expect(await add('/api/gatherings/G910', { temperature: '38 F' }, '"999999"')).toBe(412);
    const hold = { why: 'a lid came off' };
    const held = await keyed.sent(`/api/lots/${keyed.day.pack}/hold`, hold, { 'if-match': '"999999"' });
    expect(held.statusCode).toBe(412);
  });

  test.each(['yesterday', '', '"x"', '"1" "2"'])(
    'a condition that can’t be read, %j, is refused, not dropped',
    async (tag) => {
      const before = await keyed.entries();
      const answer = await keyed.sent('/api/gatherings', { id: 'G911', ...gathering }, { 'if-match': tag });
      expect([answer.statusCode, answer.json<{ detail: string }>().detail]).toEqual([
        422,
        expect.stringContaining('If-Match: expected the ETag of an answer, such as "149", or *'),
      ]);
      expect(await keyed.entries()).toBe(before);
    },
  );

  test('* asks for nothing', async () => {
    expect((await keyed.sent('/api/gatherings', { id: 'G912', ...gathering }, { 'if-match': '*' })).statusCode).toBe(
      201,
    );
  });
});
