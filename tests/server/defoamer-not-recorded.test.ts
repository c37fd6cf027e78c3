import { beforeAll, expect, test } from '@jest/globals';
import { recallSuite } from '../support/recall-suite.js';

const here = recallSuite();
beforeAll(async () => {
  // The cautions come before the first labels.
  await here.send(`/lots/${here.day.pack}/labels/read`, {});
});

test('a boil without a defoamer is an advisory and a caution on its labels, and one tap answers it', async () => {
  const boil = await here.write('boils', { ...aBoil, beganAt: '2026-03-19T06:10' });
  const pack = await here.aPack(boil);
  expect(await here.state(pack)).toBe('open');
  const { body } = await here.open(`/lots/${pack}`, 'JP');
  expect(body).toContain(`boil ${boil}: whether a defoamer was used is not recorded`);
  expect(body).toContain('No defoamer was used');
  expect(body).toContain(`href="/boils/${boil}/log/defoamer"`);
  expect((await here.open(`/lots/${pack}/labels`)).body).toContain(caution);

  const saved = await here.send(`/boils/${boil}/log/defoamer`, { defoamer: 'none', back: pack }, 'JP');
  expect(saved.headers.location).toContain(`/lots/${pack}`);
  expect((await here.open(`/lots/${pack}`, 'JP')).body).not.toContain('whether a defoamer was used');
  expect((await here.open(`/lots/${pack}/labels`)).body).not.toContain(caution);
});

test('a blend of a boil with milk and one without an answer declares the milk and warns of the other', async () => {
  const milk = await here.write('boils', {
    ...aBoil,
    beganAt: '2026-03-19T06:20',
    defoamer: 'butter',
    defoamerAllergens: 'milk',
  });
  const blank = await here.write('boils', { ...aBoil, beganAt: '2026-03-19T06:30' });
  const pack = await here.aPack(milk, { fromLots: [`${milk}:25 fl oz`, `${blank}:25 fl oz`] });
  const { body } = await here.open(`/lots/${pack}/labels`);
  expect(body).toMatch(/Contains: milk/iu);
  expect(body).toContain(caution);
});

test('a defoamer recorded later by the boil’s own form answers it too', async () => {
  const boil = await here.write('boils', { ...aBoil, beganAt: '2026-03-19T06:40' });
  const said = await here.send(`/boils/${boil}/log/defoamer`, { defoamer: 'butter', defoamerAllergens: 'milk' });
  expect(said.statusCode).toBe(303);
  const pack = await here.aPack(boil);
  expect((await here.open(`/lots/${pack}`)).body).not.toContain('whether a defoamer was used');
});

const caution = 'Whether a defoamer was used is not recorded: butter or cream would have to be declared as milk';
const aBoil = {
  gatherings: 'G050:40 gal',
  filterTemp: '190 F',
  syrupVolume: '1 gal',
  restedFrom: '2026-03-19T11:00',
  restedUntil: '2026-03-19T14:00',
  by: 'OE',
};
