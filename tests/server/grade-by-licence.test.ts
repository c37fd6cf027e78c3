import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import { engines } from '../support/engines.js';
import { openPdf, textsOf } from '../support/read-symbols.js';
import { house, owner } from '../support/newcomer.js';
import { startServer, posted, type TestServer } from '../support/server.js';

const licence = { federalLicence: 'yes', federalLicenceNumber: 'TH-0000001' };
const atHome = { ...house, address: '9 Hollow Lane', place: 'Canada' };

describe.each(engines())('a grade name in Canada is for the holder of a federal licence, on $name', (engine) => {
  let at: TestServer;
  let cookie = '';
  const packs: Record<string, string> = {};

  beforeAll(async () => {
    await engine.start();
    at = await startServer({ BOILBOOK_PUBLIC_URL: 'https://jars.tamarack.example' }, { engine });
  });
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });

  const read = (url: string) => at.web.inject({ url, headers: { cookie } });
  const change = async (to: Record<string, string>) => {
    const done = await posted(at, '/house', { ...atHome, ...to }, { cookie });
    expect([done.statusCode, done.headers.location]).toEqual([303, '/house']);
  };
  const labelText = async (pack: string) => {
    const answer = await read(`/api/lots/${pack}/labels.pdf?from=1&to=1&stock=letter-6-up-102x85`);
    expect(answer.headers['content-type']).toBe('application/pdf');
    return (await textsOf(await openPdf(answer.rawPayload), 1)).map(({ text }) => text).join(' ');
  };

  test('set-up asks for the licence, and yes without its number is refused', async () => {
    const form = await at.web.inject('/set-up');
    expect(form.body).toContain('do you hold a federal food licence?');
    const first = { ...atHome, ...owner, word: at.lines[0] ?? '' };
    const refused = await posted(at, '/set-up', { ...first, federalLicence: 'yes' });
    expect([refused.statusCode, refused.body]).toEqual([
      422,
      expect.stringContaining('enter the number on the federal licence'),
    ]);
    const done = await posted(at, '/set-up', first);
    expect(done.statusCode).toBe(303);
    cookie = done.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
    for (const container of ['glass jar 500 mL', 'glass jar 100 mL']) packs[container] = await aPack(at, container);
    const cautionsRead = await posted(at, `/lots/${packs['glass jar 500 mL']}/labels/read`, {}, { cookie });
    expect(cautionsRead.statusCode).toBe(303);
  });

  test('without a licence no label, page or preview has one, and the page says why', async () => {
    const pack = packs['glass jar 500 mL'] ?? '';
    for (const answer of [{}, { federalLicence: 'no' }, { federalLicence: 'no', federalLicenceNumber: 'TH-0000001' }]) {
      await change(answer);
      const label = await labelText(pack);
      expect(label).toMatch(/maple syrup/i);
      expect(label).not.toMatch(/grade|cat[ée]gorie/i);
      const page = (await read(`/lots/${pack}/labels`)).body;
      expect(page).toContain('only the holder of a federal licence may put a Canada grade name on syrup');
      expect(page).not.toMatch(/Canada Grade A/i);
      const listed = await read(`/api/lots/${pack}/jars?most=1`);
      const jar = listed.json<{ jars: { code: string }[] }>().jars[0]?.code;
      expect((await read(`/J/${jar}`)).body).not.toMatch(/Canada (Grade|Cat)/i);
      expect((await read('/calculators/colour?transmittance=61+%25')).body).not.toMatch(/Canada (Grade A|Cat)/i);
    }
  });

  test('with a licence and its number the label has the grade in both languages', async () => {
    await change(licence);
    const label = await labelText(packs['glass jar 500 mL'] ?? '');
    expect(label).toMatch(/Canada Grade A Amber, Rich Taste/i);
    expect(label).toMatch(/Canada Catégorie A Ambré, goût riche/i);
  });

  test('Quebec’s own category is printed without a licence; a licence gives the federal one', async () => {
    await change({ place: 'Quebec' });
    const label = await labelText(packs['glass jar 500 mL'] ?? '');
    expect(label).toMatch(/Category A Amber/i);
    expect(label).toMatch(/Catégorie A Ambré/i);
    expect(label).not.toMatch(/Canada/i);
    await change({ place: 'Quebec', ...licence });
    expect(await labelText(packs['glass jar 500 mL'] ?? '')).toMatch(/Canada Grade A/i);
  });

  test('Ontario prints its own grade from 125 mL, and requires none for a smaller jar', async () => {
    await change({ place: 'Ontario' });
    const [large, small] = [packs['glass jar 500 mL'] ?? '', packs['glass jar 100 mL'] ?? ''];
    expect(await labelText(large)).toMatch(/Ontario Grade A Amber/i);
    expect(await labelText(small)).not.toMatch(/grade|amber/i);
    expect((await read(`/lots/${small}/labels`)).body).not.toMatch(/No grade/);
  });
});

async function aPack(at: TestServer, container: string): Promise<string> {
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: at.clock.now, zone: 'America/New_York' };
  const write = async (plural: string, sent: Record<string, unknown>): Promise<string> => {
    const kind = importKinds.find((each) => each.plural === plural);
    if (!kind) throw new Error(`no kind ${plural}`);
    const done = await record(at.book, context, kind, sent);
    if ('problem' in done) throw new Error(JSON.stringify(done.problem));
    return done.id;
  };
  const boil = await write('boils', {
    beganAt: '2026-03-18T07:30',
    filterTemp: '190 F',
    filterMedium: 'wool cone',
    syrupVolume: '8 L',
    by: 'WE',
  });
  return write('packs', {
    packedAt: '2026-03-19T10:00',
    hotPackTemp: '88 C',
    densityReading: '66.9 Bx',
    densityBy: 'refractometer-atc',
    densityAt: '20 C',
    transmittance: '61 %',
    container,
    jars: '8',
    fillTemps: ['86 C', '85 C'],
    sealsFailed: '0',
    fromLots: [`${boil}:5 L`],
    by: 'OE',
  });
}
