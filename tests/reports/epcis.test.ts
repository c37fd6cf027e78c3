import { describe, expect, test } from '@jest/globals';
import { epcisFaults } from '#libs/reports/epcis/rules.js';
import { seasonEpcis, seasonJsonLd } from '#libs/reports/epcis/season-epcis.js';
import { epcisTerms } from '#libs/reports/epcis/terms.js';
import type { DispatchKind } from '#libs/reports/season/flow.js';
import { namesIn, upstreamOf, validated, walkable } from '../support/epcis-walk.js';
import { tamarackSeason } from './tamarack-season.js';

const createdAt = new Date('2026-06-01T13:00:00Z');

type Fields = Record<string, unknown>;
const eventsOf = (text: string): Fields[] =>
  (JSON.parse(text) as { epcisBody: { eventList: Fields[] } }).epcisBody.eventList;

describe('the season as EPCIS 2.0', () => {
  const text = seasonJsonLd(tamarackSeason(), { createdAt, base: 'https://sugar.example/' });
  const events = eventsOf(text);
  const eventNamed = (id: string): Fields => {
    const found = events.find((event) => event['eventID'] === `https://sugar.example/event/${id}`);
    if (!found) throw new Error(`no event ${id}`);
    return found;
  };

  test('is valid against the published schema, with its extensions declared', () => {
    expect(validated(JSON.parse(text))).toEqual({ success: true, errors: [] });
    const broken = JSON.parse(text) as { epcisBody: { eventList: Fields[] } };
    delete broken.epcisBody.eventList[0]?.['eventTimeZoneOffset'];
    expect(validated(broken).success).toBe(false);
  });

  test('keeps the two rules that the schema doesn’t check', () => {
    expect(epcisFaults(JSON.parse(text) as { epcisBody: { eventList: object[] } })).toEqual([]);
    const bare = { type: 'TransformationEvent', transformationID: 'urn:x:1', inputQuantityList: [{}] };
    const parentless = { type: 'AggregationEvent', action: 'ADD', childEPCs: ['urn:x:2'] };
    expect(epcisFaults({ epcisBody: { eventList: [bare, parentless] } })).toEqual([
      'event 1 (without an id): a transformation without outputs',
      'event 2 (without an id): an aggregation adds to nothing, parentID is missing',
    ]);
  });

  test('has each event once, in the order they happened, and no plan', () => {
    const ids = events.map((event) => event['eventID']);
    expect(new Set(ids).size).toBe(ids.length);
    const times = events.map((event) => Date.parse(String(event['eventTime'])));
    expect(times).toEqual([...times].sort((one, other) => one - other));
    expect(ids).not.toContain('https://sugar.example/event/dispatch/S11');
    // 3 gatherings, 1 receipt, 3 boils, 1 draw, 5 packs, 1 correction, 3 changes of status, 10 dispatches that
    // happened, 1 count. 26081X-1 was held once, 26078A-1 was held and released.
    expect(events).toHaveLength(3 + 1 + 3 + 1 + 5 + 1 + 3 + 10 + 1);
  });

  test('binds a pack to its boils with amounts, and reports temperatures in the unit they were read in', () => {
    const pack = eventNamed('pack/26077A-1');
    expect(pack['inputQuantityList']).toEqual([
      { epcClass: 'https://sugar.example/lot/26077A', quantity: 15.142, uom: 'LTR' },
      { epcClass: 'https://sugar.example/lot/26076A', quantity: 15.142, uom: 'LTR' },
    ]);
    const [first] = pack['sensorElementList'] as { sensorReport: Fields[] }[];
    expect(first?.sensorReport[0]).toMatchObject({
      type: 'Temperature',
      value: 85,
      uom: 'CEL',
      time: '2026-03-19T15:05:00-04:00',
      deviceID: 'https://sugar.example/instrument/T1',
      'boilbook:typed': '85 C',
    });
  });

  test('writes a correction as an error declaration that points to the event that replaces it', () => {
    const before = eventNamed('pack/26078A-2%20before%20150');
    expect(before['boilbook:jars']).toBe(21);
    expect(before['errorDeclaration']).toEqual({
      declarationTime: '2026-03-25T08:00:00-04:00',
      reason: 'incorrect_data',
      correctiveEventIDs: ['https://sugar.example/event/pack/26078A-2'],
      'boilbook:why': 'counted again on the shelf',
    });
    expect(eventNamed('pack/26078A-2')['boilbook:jars']).toBe(20);
  });

  test('leads from every sold jar to its sap or its bought lot, by classes and jars alone', () => {
    const season = tamarackSeason();
    const [first, ...others] = season.dispatches;
    const byCode = { ...first!, jars: 2, jarCodes: ['K7QM-3XWT', 'ABCD-2345'] };
    const lots = season.lots.map((lot) => (lot.lot === '26077A-1' ? { ...lot, gtin: '09520123456788' } : lot));
    const document = seasonEpcis(
      { ...season, lots, dispatches: [byCode, ...others] },
      { createdAt, base: 'https://sugar.example' },
    );
    expect(validated(JSON.parse(JSON.stringify(document)))).toEqual({ success: true, errors: [] });
    const walked = walkable(JSON.parse(JSON.stringify(document)) as typeof document);
    const sold = walked.filter((event) => event.getBizStep() === 'retail_selling');
    expect(sold.length).toBeGreaterThan(4);
    for (const sale of sold)
      expect(upstreamOf(walked, namesIn(sale))).toEqual(
        expect.arrayContaining([expect.stringMatching(/^https:\/\/sugar\.example\/lot\/(G|R)\d{3}$/)]),
      );
    // The label's own address names a jar, and a lot whose labels carry a GTIN is named by it.
    expect(namesIn(sold[0]!)).toContain('https://sugar.example/J/K7QM3XWT');
    expect(sold.flatMap(namesIn)).toContain('https://sugar.example/01/09520123456788/10/26077A-1');
  });

  test('says where each thing happened, and a density as a number with its unit', () => {
    for (const event of events) expect(event['readPoint']).toEqual({ id: expect.stringMatching(/^https:/) });
    expect(eventNamed('pack/26077A-1')['bizLocation']).toEqual({ id: 'https://sugar.example/place/sugarhouse' });
    const reports = events.flatMap((event) => (event['sensorElementList'] ?? []) as { sensorReport: Fields[] }[]);
    const densities = reports.flatMap(({ sensorReport }) => sensorReport).filter((each) => each['type'] === 'Density');
    expect(densities.length).toBeGreaterThan(3);
    for (const each of densities) expect(each).toMatchObject({ value: expect.any(Number), uom: 'KMQ' });
    // 60.6 °Bx on a hydrometer made for 60 °F: 1.29 g/mL.
    const syrup = densities.find((each) => each['boilbook:typed'] === '60.6 Bx');
    expect(syrup?.['value']).toBeGreaterThan(1285);
    expect(syrup?.['value']).toBeLessThan(1298);
  });

  test('has a place afterwards for all that is then at the sugarhouse, and none for what left it or is no more', () => {
    const season = tamarackSeason();
    const [one] = season.dispatches;
    const kinds: readonly DispatchKind[] = [
      'sale',
      'gift',
      'sample',
      'kept',
      'retained',
      'broken',
      'destroyed',
      'returned',
    ];
    const dispatches = kinds.map((kind) => ({ ...one!, id: `of-${kind}`, kind, planned: false }));
    const house = 'https://sugar.example/place/sugarhouse';
    const all = seasonEpcis({ ...season, dispatches }, { createdAt, base: 'https://sugar.example' }).epcisBody
      .eventList;
    const kindOf = ({ eventID }: { eventID: string }): string =>
      /\/event\/(?:dispatch\/of-)?(\w+)/.exec(eventID)?.[1] ?? '';
    const without = all.filter((event) => event['bizLocation'] === undefined);
    expect(new Set(without.map(kindOf))).toEqual(new Set(['sale', 'gift', 'sample', 'broken', 'destroyed']));
    for (const event of all.filter((each) => each['bizLocation'] !== undefined))
      expect([event.eventID, event['bizLocation']]).toEqual([event.eventID, { id: house }]);
    expect(new Set(all.map(kindOf))).toEqual(
      new Set([...kinds, 'gathering', 'receipt', 'boil', 'draw', 'pack', 'held', 'released', 'count']),
    );
    for (const event of all)
      expect([event.eventID, event['readPoint']]).toEqual([
        event.eventID,
        { id: kindOf(event) === 'gathering' ? expect.stringContaining('/place/') : house },
      ]);
  });

  test('uses only terms that the vocabulary explains, and the vocabulary no others', () => {
    const season = tamarackSeason();
    const terms = [...JSON.stringify(seasonEpcis(season, { createdAt })).matchAll(/"boilbook:(\w+)":/g)];
    expect([...new Set(terms.map(([, name]) => name))].sort()).toEqual(epcisTerms.map(({ name }) => name).sort());
  });

  test('uses names that are no web addresses where the book has no public address', () => {
    const [first] = seasonEpcis(tamarackSeason(), { createdAt }).epcisBody.eventList;
    expect(first?.eventID).toBe('https://boilbook.invalid/event/gathering/G041');
  });
});
