import { beforeAll, describe, expect, test } from '@jest/globals';
import { engines } from '../support/engines.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';

interface Why {
  readonly status: string;
  readonly rules: readonly { readonly rule: string; readonly state: string; readonly because: readonly string[] }[];
}
interface Summary {
  readonly lots: readonly { readonly lot: string; readonly findings: readonly Record<string, unknown>[] }[];
  readonly deviations: readonly {
    readonly lot: string;
    readonly rule: string;
    readonly released: { readonly by: string; readonly why: string } | null;
  }[];
}

describe.each(engines())('A pack whose every jar was poured back, on $name', (engine) => {
  const here = recallSuite(engine);
  const text = 'every jar of it was poured back or destroyed, the last by WE, 2026-03-20';
  let pack = '';
  beforeAll(async () => {
    pack = await here.aPack(here.boil, { fromLots: [`${here.boil}:0.2 gal`], jars: '3', densityReading: '57 Bx' });
    const act = `/lots/${pack}/act`;
    const acted = { found: 'too thin', jars: 'all', cause: 'thin-syrup', way: 'poured-back', done: 'into the kettle' };
    await here.send(act, { ...hiddenFieldsIn((await here.open(act)).body), ...acted });
    expect(await here.state(pack)).toBe('held');
  });
  const summary = async (): Promise<Summary> => (await here.open('/api/seasons/2026/summary.json')).json();
  const findings = async () => (await summary()).lots.find(({ lot }) => lot === pack)?.findings;

  test('names no release while nobody has released it', async () => {
    const why = (await here.open(`/api/lots/${pack}/why`)).json<Why>();
    expect(why.status).toBe('held');
    expect(why.rules.find(({ rule }) => rule === 'density-too-thin')).toMatchObject({
      state: 'off-sale',
      because: [expect.stringContaining(text)],
    });
    expect(why.rules.filter(({ state }) => state === 'accepted')).toEqual([]);
    const page = (await here.open(`/lots/${pack}/why`)).body;
    expect(page).toContain('No jar left on sale');
    expect(page).toContain(text);
    expect(page).not.toMatch(/released by|Accepted at a release/);
    const listed = await findings();
    expect(listed).toContainEqual(
      expect.objectContaining({ rule: 'density-too-thin', offSale: expect.stringContaining(text) }),
    );
    expect(listed?.filter((each) => 'accepted' in each)).toEqual([]);
  });

  test('names none either where an older version stored its finding as accepted', async () => {
    const [row] = await here.at.book.read.rows<{ verdict: string }>`SELECT verdict FROM lot WHERE code = ${pack}`;
    const stored = JSON.parse(row?.verdict ?? '') as { findings: Record<string, unknown>[] };
    const accepted = { by: 'WE', at: '2026-03-20T09:00:00-04:00', why: 'every jar of it was poured back or destroyed' };
    const older = stored.findings.map(({ offSale, ...finding }) => (offSale ? { ...finding, accepted } : finding));
    const json = JSON.stringify({ ...stored, findings: older });
    await here.at.book.write(async (tx) => {
      await tx.sql.run`UPDATE lot SET verdict = ${json} WHERE code = ${pack}`;
      return {};
    });
    // An entry about another lot: the server then reads the pack again and answers nothing from its cache.
    await here.write('gatherings', {
      id: 'G900',
      gatheredAt: '2026-03-20T08:00',
      source: 'North slope',
      volume: '9 gal',
    });
    const listed = await findings();
    expect(listed).toContainEqual(
      expect.objectContaining({ rule: 'density-too-thin', offSale: expect.stringContaining(text) }),
    );
    expect(listed?.filter((each) => 'accepted' in each)).toEqual([]);
    const lot = (await here.open(`/api/lots/${pack}`)).json<{ findings: Record<string, unknown>[] }>();
    expect(lot.findings.filter((each) => 'accepted' in each)).toEqual([]);
  });

  test('shows the reason that the maker entered once it is released', async () => {
    const url = `/lots/${pack}/release`;
    const why = 'the three jars went back into the kettle, empty jars counted';
    const released = await here.send(url, { ...hiddenFieldsIn((await here.open(url)).body), why });
    expect([released.statusCode, await here.state(pack)]).toEqual([303, 'released']);
    const { deviations } = await summary();
    expect(deviations.find(({ lot, rule }) => lot === pack && rule === 'density-too-thin')?.released).toMatchObject({
      by: 'WE',
      why,
    });
  });
});
