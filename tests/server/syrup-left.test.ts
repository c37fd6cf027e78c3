import { describe, expect, test } from '@jest/globals';
import { engines } from '../support/engines.js';
import { aDayToRecall, hiddenFieldsIn } from '../support/day-to-recall.js';

const leftOver = /1\.5 qt of 5 gal are in jars, and all of \S+ counts as used, since no amount was written\./;

describe.each(engines())('on $name', (engine) => {
  const here = aDayToRecall(engine);
  const textOf = async (url: string): Promise<string> =>
    (await here.open(url)).body.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');

  test('a pack of a few jars from all of a boil asks whether syrup is left; the amount, once written, frees it', async () => {
    const pack = await here.aPack(here.boil, { fromLots: [here.boil] });
    expect(await textOf(`/lots/${pack}`)).toMatch(leftOver);
    expect(await textOf(`/lots/${here.boil}`)).toContain('None left.');
    const form = `/records/pack/${pack}/correct`;
    expect((await here.open(`/lots/${pack}`)).body).toContain(`href="${form}?field=fromLots"`);
    const { body } = await here.open(`${form}?field=fromLots`);
    const amount = { fromLots: here.boil, [`fromLots~of~${here.boil}`]: '50', 'fromLots~unit': 'fl oz' };
    const saved = await here.send(form, {
      ...hiddenFieldsIn(body),
      ...amount,
      'correction~field': 'fromLots',
      'correction~why': 'some is left',
    });
    expect(saved.statusCode).toBe(303);
    expect(await textOf(`/lots/${pack}`)).not.toMatch(leftOver);
    expect(await textOf(`/lots/${here.boil}`)).not.toContain('None left.');
  });

  test('a pack whose amount was written, or that holds nearly all of its syrup, is not asked', async () => {
    const some = await here.aPack(here.boil);
    const most = await here.aPack(here.boil, { fromLots: [here.boil], jars: '72' });
    for (const pack of [some, most]) expect(await textOf(`/lots/${pack}`)).not.toMatch(/counts as used/);
  });
});
