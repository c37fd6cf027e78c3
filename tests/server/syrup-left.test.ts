import { describe, expect, test } from '@jest/globals';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';

const leftOver = /1\.5 qt of 5 gal are in jars, and all of \S+ counts as used, since no amount was written\./;

describe.each(engines())('on $name', (engine) => {
  const here = recallSuite(engine);
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

  describe('of a boil whose syrup is measured after a pack was begun from it', () => {
    const boil = '26078M';
    let pack = '';
    const logged = (what: string, fields: Record<string, string>) => here.send(`/boils/${boil}/log/${what}`, fields);
    const made = `/boils/${boil}/log/finish`;

    test('the pack says that the amount is not recorded, and a count of its jars holds it', async () => {
      await here.send('/boils/begin', { lot: boil, beganAt: '2026-03-19T06:00', gatherings: 'G050' });
      const drawn = await logged('draw', { volume: '2 qt', drawnAt: '2026-03-19T08:00' });
      expect(drawn.statusCode).toBe(303);
      pack = await here.aPack(boil, { fromLots: [boil], packedAt: '2026-03-19T20:00' });
      expect(await here.state(pack)).toBe('held');
      expect(await textOf(`/lots/${pack}`)).toContain(
        '6 × 8 fl oz is 0.38 gal; how much syrup was drawn for them is not recorded',
      );
    });

    test('the form for the measure says how much was drawn off', async () => {
      expect(await textOf(made)).toContain('Drawn off so far: 2 qt.');
    });

    test('the measure becomes the pack’s share: none is left, and the hold ends', async () => {
      const { body } = await here.open(made);
      const saved = await here.send(made, { ...hiddenFieldsIn(body), syrupVolume: '50', 'syrupVolume~unit': 'fl oz' });
      expect(saved.statusCode).toBe(303);
      expect(await textOf(`/lots/${boil}`)).toContain('None left.');
      expect(await textOf(`/lots/${pack}`)).not.toContain('how much syrup was drawn for them is not recorded');
      expect(await here.state(pack)).toBe('open');
      expect(await textOf('/')).not.toMatch(new RegExp(`${boil}(?!-)`));
    });

    test('verifying the book finds no difference', async () => {
      expect(await verifyBook(here.at.book)).toMatchObject({ ok: true });
    });
  });
});
