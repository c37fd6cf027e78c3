import { describe, expect, test } from '@jest/globals';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { packs } from '#libs/actions/kinds/pack.js';
import { record } from '#libs/actions/record/record.js';
import { signatureSentences } from '#libs/records/signatures.js';
import { verifications } from '#libs/actions/kinds/verification.js';
import { explainState } from '#libs/actions/lots/explain-state.js';
import { rules } from '#libs/syrup/rules/rules.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

describe.each(engines())('Why a lot is in its state on $name', (engine) => {
  const season = seasonCopies(engine);
  const why = async (lot = pack) =>
    done(await explainState(await loadJudgingContext(season.book.read, writeContext()), lot));
  const line = async (rule: string, lot = pack) => (await why(lot)).rules.find((each) => each.rule === rule);

  test('every hold rule lists what was recorded, by whom, and what was not', async () => {
    expect((await why()).rules.map(({ rule }) => rule)).toEqual(
      rules.filter(({ kind }) => kind === 'stop').map(({ name }) => name),
    );
    expect((await why()).status).toBe('open');
    expect(await line('fill-temperature')).toMatchObject({
      state: 'met',
      because: ['188 °F, by WE', '186 °F, by WE', '185 °F, by WE'],
      notRecorded: expect.arrayContaining(['which thermometer took each reading']),
    });
    expect(await line('density-not-read')).toMatchObject({ because: ['67.2 °Bx at 68 °F with refractometer, by WE'] });
    expect(await line('held-upstream')).toMatchObject({ because: expect.arrayContaining(['26077A is open']) });
  });

  test('each rule answers from its own records: it is met where they are, and not recorded where they are missing', async () => {
    const density = '67.2 °Bx at 68 °F with refractometer, by WE';
    const met = {
      'fill-temperature': ['188 °F, by WE', '186 °F, by WE', '185 °F, by WE'],
      'fill-not-read': ['3 readings'],
      'fill-perhaps-hot-enough': ['the lowest as read, before any correction: 185 °F, by WE'],
      'density-not-read': [density],
      'hydrometer-temperature': [density],
      'density-too-thin': [density],
      'density-measure-again': [density],
      'density-too-thick': [density],
      'seals-failed': ['0 failed, by WE'],
      'glass-poured-in': ['none of its syrup was poured from a pack'],
      'off-flavour': ['none, by WE'],
      cloudy: ['clear, by WE'],
      'processing-below-5-gal': ['61 %, by WE'],
      'defoamer-allergens': ['26077A: none, by WE'],
      'allergen-contradiction': ['26077A: none, by WE'],
      'container-question': ['glass jar 8 fl oz'],
      'unfit-container': ['glass jar 8 fl oz'],
      'thin-syrup-question': ['none of its syrup was poured from a pack'],
      'unit-question': [density],
      'kettle-too-cold': ['190 °F, by WE'],
      'bought-syrup-allergens': ['none of its syrup was bought'],
      'more-in-jars-than-drawn': ['48 × glass jar 8 fl oz from 3 gal of 26077A'],
      'held-upstream': ['26077A is open', 'G001 is open'],
    };
    const missing = {
      'thermometer-unreliable': ['any thermometer of the house'],
      'broken-glass': ['broken glass'],
      'undeclared-allergen': ['labels printed for its jars'],
      'undeclared-allergen-sent': ['labels printed for its jars'],
      'label-net-quantity': ['labels printed for its jars'],
      'labels-replaced': ['labels printed for its jars'],
      'more-sugar-than-came-in': ['the sugar of G001'],
      mould: ['whether any jar was mouldy'],
      'mould-looked-at': ['whether any jar was mouldy'],
      'spoilage-question': ['a complaint'],
      'harm-question': ['a complaint'],
      'harm-reported': ['a complaint'],
      'harm-in-same-syrup': ['a complaint about another pack of its syrup'],
      'note-question': ['a note'],
      'instrument-in-doubt': ['a note'],
      'sources-incomplete': ['a note'],
      'equipment-question': ['a cleaning before 26077A', 'a water test before 26077A'],
      'sap-question': ['how the sap of G001 looked and smelled'],
      'lead-over-limit': ['a lead test of 26077A-1 or 26077A'],
      'outside-these-rules': ['the product: it is judged as pure maple syrup'],
    };
    const { rules: lines } = await why();
    const inState = (is: string) => lines.filter(({ state }) => state === is);
    expect(Object.fromEntries(inState('met').map(({ rule, because }) => [rule, because]))).toEqual(met);
    expect(Object.fromEntries(inState('not-recorded').map(({ rule, notRecorded }) => [rule, notRecorded]))).toEqual(
      missing,
    );
    // Without jar numbers they are too far apart for the interval, which holds nothing unless the sugarhouse says so.
    expect(inState('no-limit')).toEqual([
      expect.objectContaining({
        rule: 'readings-too-far-apart',
        because: [
          '3 readings; the sugarhouse’s interval is 12 jars or 15 min, and a longer gap doesn’t hold the lot',
          '3 readings for 48 jars, and no jar numbers',
        ],
        notRecorded: ['a reading for jars 1–48'],
      }),
    ]);
    expect(lines).toHaveLength(Object.keys({ ...met, ...missing }).length + 1);
  });

  test('a place without a greatest density has no limit that is met', async () => {
    await season.correct('house', 'house', { place: 'New Hampshire' });
    const { rules: lines } = await why();
    expect(lines.filter(({ rule }) => rule === 'density-too-thick')).toEqual([
      expect.objectContaining({ state: 'no-limit', because: ['the place has no greatest density'] }),
    ]);
  });

  test('a mouldy jar that was opened and kept warm is listed, and is no evidence that the others are sound', async () => {
    const openedWarm = { lot: pack, said: 'mouldy', mould: 'yes', came: 'opened-warm' };
    done(await record(season.book, writeContext(), kindByName.get('complaint')!, openedWarm));
    expect(await line('mould')).toMatchObject({
      state: 'not-recorded',
      because: [expect.stringMatching(/^CO\d+: mould yes, by /)],
    });
    expect(await line('harm-reported')).toMatchObject({
      state: 'met',
      because: [expect.stringMatching(/^CO\d+: not answered as harm$/)],
    });
  });

  test('a boil has rules about its sugar, its equipment, its sap and its lead', async () => {
    const cleaned = { at: '2026-03-17T08:00', what: 'all pans', with: 'hot water', wasRinsed: 'yes', by: 'OE' };
    done(await record(season.book, writeContext(), kindByName.get('cleaning')!, { id: 'CL1', ...cleaned }));
    const water = { at: '2026-03-10T08:00', source: 'house well', bacteria: 'none', result: 'absent', by: 'WE' };
    done(await record(season.book, writeContext(), kindByName.get('water-test')!, { id: 'W1', ...water }));
    const { status, rules: lines } = await why('26077A');
    expect(status).toBe('open');
    expect(lines.map(({ rule }) => rule)).toEqual([
      'more-sugar-than-came-in',
      'equipment-question',
      'sap-question',
      'lead-over-limit',
    ]);
    expect(lines[0]?.because.join()).toMatch(/^26077A: .* of syrup from .*G001.*, by WE$/);
    expect(lines[1]?.because).toEqual([
      'before 26077A, CL1: all pans cleaned 2026-03-17, rinsed yes, by OE',
      'before 26077A, W1: water of house well tested 2026-03-10: none, absent, by WE',
    ]);
    expect([...(lines[2]?.because ?? []), ...(lines[2]?.notRecorded ?? [])].join()).toContain('G001');
    expect(lines[3]).toMatchObject({ state: 'not-recorded', notRecorded: ['a lead test of 26077A'] });
    // A pack has the same evidence for the same rules.
    expect((await line('equipment-question'))?.because).toEqual(expect.arrayContaining([...(lines[1]?.because ?? [])]));
  });

  test('a boil of sap whose sugar was not measured meets no rule about its sugar', async () => {
    const gathering = await recordOrThrow(season.book, 'gathering', { id: 'G077', volume: '60 gal', sugar: '' });
    const unread = { gatherings: `${gathering.id}:60 gal`, sapVolume: '', sapSugar: '', syrupVolume: '1 gal' };
    const { id } = await recordOrThrow(season.book, 'boil', unread);
    const { rules: lines } = await why(id);
    expect(lines[0]).toMatchObject({ state: 'not-recorded', notRecorded: ['the sugar of G077'] });
  });

  test('jars poured back, and readings that an action replaced, are no evidence', async () => {
    const { id } = await recordOrThrow(season.book, 'pack', {
      fromLots: '26077A:1 qt',
      jars: '4',
      fillTemps: '176 F@10:05 jar 2;176 F@10:05 jar 2 poured back;186 F@10:10 jar 2;178 F@10:20 jar 4',
    });
    await recordOrThrow(season.book, 'action', {
      lot: id,
      at: '2026-03-19T15:00',
      found: 'a cold jar',
      done: 'filled again',
      cause: 'cold-jar',
      jars: '3-4',
      fillTemps: '188 F jar 4',
    });
    expect((await line('fill-temperature', id))?.because).toEqual([
      expect.stringMatching(/^186 °F at 10:10, jar 2/),
      expect.stringMatching(/^188 °F, jar 4/),
    ]);
  });

  test('jars destroyed by a dispatch, and an instrument that reads no temperature, are no evidence', async () => {
    const instrument = { id: 'H9', what: 'hydrometer' };
    done(await record(season.book, writeContext(), kindByName.get('instrument')!, instrument));
    const { id } = await recordOrThrow(season.book, 'pack', {
      fromLots: '26077A:1 qt',
      jars: '4',
      fillTemps: '186 F#H9 jar 2;188 F jar 4',
    });
    expect((await line('fill-temperature', id))?.because).toEqual(['186 °F, jar 2, by WE', '188 °F, jar 4, by WE']);
    const sent = { lot: id, sentAt: '2026-03-19T16:00', to: 'the compost', by: 'OE' };
    const jars = await season.book.read.rows<{ code: string }>`SELECT code FROM jar WHERE pack = ${id} ORDER BY n`;
    const destroyed = {
      ...sent,
      kind: 'destroyed',
      jars: jars
        .slice(2)
        .map(({ code }) => code)
        .join(';'),
    };
    await recordOrThrow(season.book, 'dispatch', destroyed);
    expect(await line('fill-temperature', id)).toMatchObject({ state: 'met', because: ['186 °F, jar 2, by WE'] });
    await recordOrThrow(season.book, 'dispatch', { ...sent, kind: 'destroyed', jars: '2' });
    expect(await line('fill-temperature', id)).toMatchObject({ state: 'not-recorded', because: [] });
  });

  test('a reading names its thermometer, the last check before it and who added it', async () => {
    const check = { instrument: 'T1', at: '2026-03-01T08:00', how: 'ice', should: '32 F', reads: '32.5 F', by: 'OE' };
    done(await record(season.book, writeContext(), kindByName.get('check')!, check));
    const { id } = await recordOrThrow(season.book, 'pack', {
      fromLots: '26077A:1 qt',
      jars: '4',
      fillTemps: '186 F@10:05#T1',
    });
    const added = { fillTemps: '184 F@10:20#T2' };
    done(await record(season.book, writeContext({ by: 'JP' }), packs, added, { add: true, of: id }));
    expect(await line('fill-temperature', id)).toMatchObject({
      because: [
        '186 °F (185.5 °F corrected) at 10:05, with T1 (ice 2026-03-01: should read 32 F, read 32.5 F, by OE), by WE',
        '184 °F at 10:20, with T2 (no check recorded), by JP',
      ],
      notRecorded: expect.arrayContaining(['a check of T2']),
    });
  });

  test('a boil whose sap nobody recorded meets no rule about it, and nothing of it is called filled', async () => {
    const { id } = await recordOrThrow(season.book, 'boil', { gatherings: '', sapVolume: '', sapSugar: '' });
    const { kind, rules: lines, signatures } = await why(id);
    expect(lines.find(({ rule }) => rule === 'sap-question')).toMatchObject({
      state: 'not-recorded',
      because: [],
      notRecorded: [`the sap of ${id}`],
    });
    expect(signatureSentences(signatures, kind)[0]).toBe('Recorded by WE.');
    const bySheet = await recordOrThrow(season.book, 'boil', {
      gatherings: '',
      sapVolume: '60 gal',
      sapSugar: '2.1 Bx',
    });
    expect(await line('sap-question', bySheet.id)).toMatchObject({
      state: 'not-recorded',
      notRecorded: [`how the sap of ${bySheet.id} looked and smelled`],
    });
  });

  test('seals counted while the jars were warm meet no rule, and what the pack records of mould is listed', async () => {
    const { id } = await recordOrThrow(season.book, 'pack', {
      fromLots: '26077A:1 qt',
      jars: '4',
      packedAt: '2026-03-18T10:00',
      fillTemps: '186 F@10:05 jar 4',
      sealsFailed: '0',
      sealsAt: '2026-03-18T11:05',
      mould: 'no',
    });
    expect(await line('seals-failed', id)).toMatchObject({
      state: 'not-recorded',
      because: ['0 failed, by WE'],
      notRecorded: [expect.stringContaining('1 h after filling, too early to tell')],
    });
    expect(await line('mould', id)).toMatchObject({ state: 'met', because: ['mould no, by WE'] });
  });

  test('missing evidence is shown as not recorded, and a rule that holds shows what was found', async () => {
    const { id } = await recordOrThrow(season.book, 'pack', {
      fromLots: '26077A:1 qt',
      jars: '4',
      fillTemps: '176 F',
      sealsFailed: '',
      offFlavour: '',
    });
    expect(await line('fill-temperature', id)).toMatchObject({
      state: 'holds',
      because: [expect.stringContaining('176')],
    });
    expect(await line('seals-failed', id)).toMatchObject({ state: 'not-recorded', because: [] });
    expect(await line('off-flavour', id)).toMatchObject({ state: 'not-recorded', notRecorded: ['the taste'] });
    expect(problemOf(await explainState(await loadJudgingContext(season.book.read, writeContext()), 'G001')).kind).toBe(
      'refused',
    );
  });

  test('it shows who filled, released and verified it, and whether that was one person', async () => {
    const formatted = async () => signatureSentences((await why()).signatures).join(' ');
    expect(await formatted()).toBe('Filled by WE, OE. Verification by a second person is not recorded.');
    done(await holdLot(season.book, writeContext(), pack, 'a lid that did not sit'));
    done(await releaseLot(season.book, writeContext({ by: 'OE' }), pack, 'pressed again'));
    expect(await formatted()).toMatch(/Released by OE, .*: pressed again\. OE also filled it\./);
    const verify = (by: string) =>
      record(season.book, writeContext({ by }), verifications, { lot: pack, note: 'the fill sheet' });
    done(await verify('we'));
    expect(await formatted()).toMatch(
      /Verified by we, .*we also filled it\. Verification by a second person is not recorded\./,
    );
    done(await verify('JP'));
    expect(await formatted()).toMatch(/Verified by JP, .*: the fill sheet\.$/);
  });
});
