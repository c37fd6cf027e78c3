import { expect, test } from '@jest/globals';
import { hiddenFieldsIn, recallSuite } from '../support/recall-suite.js';

const here = recallSuite();
const send = async (url: string, fields: Record<string, string>): Promise<number> =>
  (await here.send(url, { ...hiddenFieldsIn((await here.open(url)).body), ...fields })).statusCode;
/** The texts chosen on a form before anybody touched it. */
const chosen = (html: string): string[] =>
  [...html.matchAll(/<input(?=[^>]* checked)[^>]*name="(?:found|why)[^"]*"[^>]*value="([^"]+)"/g)].map(
    ([, value = '']) => value,
  );

test('a form offers what was found and the reason of a release, and chooses neither', async () => {
  const pack = await here.aPack(here.boil, { fromLots: [`${here.boil}:0.2 gal`], jars: '3' });
  const expectOffered = async (form: string, text: RegExp): Promise<void> => {
    const { body } = await here.open(`/lots/${pack}/${form}`);
    expect(body).toMatch(text);
    expect(chosen(body)).toEqual([]);
  };
  expect(await send(`/lots/${pack}/hold`, { why: 'a lid sat askew' })).toBe(303);
  await expectOffered('act', /name="found~pick" value="a lid sat askew"/);
  expect(await send(`/lots/${pack}/act`, { found: 'a lid sat askew', done: 'pressed again' })).toBe(303);
  await expectOffered('release', /name="why~pick" value="corrective action C\d+: pressed again"/);
});
