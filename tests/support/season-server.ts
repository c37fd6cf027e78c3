import { importKinds } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import { houses } from '#libs/actions/kinds/house.js';
import type { TestServer } from './server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A day's work of the house: a gathering, a boil, two packs (the second too cold), a market day. */
export async function writeDay(at: TestServer): Promise<{ pack: string; cold: string; jars: string[] }> {
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: at.clock.now, zone: 'America/New_York' };
  const write = async (plural: string, sent: Record<string, unknown>): Promise<string> => {
    const kind = plural === 'house' ? houses : importKinds.find((each) => each.plural === plural);
    if (!kind) throw new Error(`no kind ${plural}`);
    const done = await record(at.book, context, kind, sent);
    if ('problem' in done) throw new Error(JSON.stringify(done.problem));
    return done.id;
  };
  await write('house', {
    name: 'Tamarack Hollow Sugarhouse',
    town: 'Harrow Notch, Vermont',
    postcode: '05000',
    phone: '802 555 0100',
    place: 'Vermont',
    hydrometerMadeFor: '60-F',
  });
  await write('gatherings', {
    id: 'G041',
    gatheredAt: '2026-03-17T16:00',
    source: 'upper lines',
    volume: '120 gal',
    sugar: '2.1 Bx',
    by: 'JP',
  });
  const boil = await write('boils', {
    beganAt: '2026-03-18T07:30',
    gatherings: ['G041:120 gal'],
    filterTemp: '190 F',
    filterMedium: 'wool cone',
    syrupVolume: '3 gal',
    restedFrom: '2026-03-18T20:00',
    restedUntil: '2026-03-19T09:00',
    by: 'WE',
  });
  const packed = {
    packedAt: '2026-03-19T10:00',
    hotPackTemp: '190 F',
    densityReading: '60.4 Bx',
    densityBy: 'hydrometer',
    densityAt: '185 F',
    container: 'glass jar 8 fl oz',
    containerPrep: 'boiled 10 min',
    sealsFailed: '0',
    by: 'OE',
  };
  const pack = await write('packs', {
    ...packed,
    fromLots: [`${boil}:2 gal`],
    jars: '30',
    fillTemps: ['186 F', '184 F'],
  });
  const cold = await write('packs', {
    ...packed,
    packedAt: '2026-03-19T11:00',
    fromLots: [`${boil}:1 gal`],
    jars: '15',
    fillTemps: ['178 F'],
  });
  await write('dispatches', {
    lot: pack,
    jars: '12',
    sentAt: '2026-03-20T09:00',
    to: 'Millrace Green market',
    contact: 'the Saturday stall',
    by: 'JP',
  });
  const { jarsOfPack } = await import('#libs/store/queries/lots.js');
  const jars: string[] = [];
  for await (const jar of jarsOfPack(sugarhouseReader(at.book.read, 'home'), pack)) jars.push(jar.code);
  return { pack, cold, jars };
}
