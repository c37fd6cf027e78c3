import { actions } from '#libs/actions/kinds/corrective-action.js';
import { counts } from '#libs/actions/kinds/count.js';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { lines } from '#libs/actions/kinds/boil-line.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { recallLot } from '#libs/actions/lots/recall-lots.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { packs, packsUnderway } from '#libs/actions/kinds/pack.js';
import { sentencesOf } from '#libs/actions/record/problem.js';
import { boils, boilsUnderway } from '#libs/actions/kinds/boil.js';
import { record } from '#libs/actions/record/record.js';
import { dispatches } from '#libs/actions/kinds/dispatch.js';
import { receipts } from '#libs/actions/kinds/receipt.js';
import { momentIn } from '#libs/actions/record/times.js';
import type { TestServer } from './server.js';

const zone = 'America/New_York';

/**
 * A few days of an invented sugarhouse: boils, a clean pack, a held one, a released one, a recalled one, one under way.
 */
export async function writeEvening({ book, clock }: TestServer): Promise<void> {
  const ago = (hours: number): string => momentIn(zone, new Date(clock.now.getTime() - hours * 3_600_000)).slice(0, 16);
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: clock.now, zone };
  const write = async (kind: Kind, sent: Record<string, unknown>): Promise<string> => {
    const answer = await record(book, context, kind, { by: 'WE', ...sent });
    if ('problem' in answer) throw new Error(sentencesOf(answer.problem).join(' '));
    return answer.id;
  };
  const side = (name: string): Kind => kindByName.get(name as never) as Kind;

  await write(gatherings, {
    id: 'G041',
    gatheredAt: ago(80),
    source: 'North slope, buckets',
    volume: '140 gal',
    sugar: '2.1 Bx',
    temperature: '36 F',
  });
  await write(gatherings, {
    id: 'G042',
    gatheredAt: ago(20),
    source: 'South road tubing',
    volume: '90 gal',
    sugar: '1.9 Bx',
  });
  await write(receipts, {
    id: 'R003',
    supplier: 'Bracken Lane Sugarbush',
    contact: 'Bracken Lane, Harrow Notch',
    volume: '40 gal',
    density: '2.2 Bx',
    receivedAt: ago(30),
  });
  const boil = await write(boils, {
    beganAt: ago(76),
    finishedAt: ago(66),
    gatherings: ['G041:120 gal'],
    waterBoilsAt: '210.4 F',
    finishTemp: '218 F',
    filterTemp: '191 F',
    filterMedium: 'wool cone',
    defoamer: 'none',
    restedFrom: ago(65),
    restedUntil: ago(52),
    syrupVolume: '3.1 gal',
  });
  await write(lines, { lot: boil, at: ago(70), what: 'reading', pan: 'finish pan', temperature: '214.5 F' });
  const fire = await write(boilsUnderway, { beganAt: ago(3), gatherings: ['G042:60 gal'], waterBoilsAt: '210.6 F' });
  await write(lines, { lot: fire, at: ago(1), what: 'reading', pan: 'back pan', temperature: '212 F' });
  const jars = {
    containerPrep: 'boiled 10 min, filled hot',
    densityReading: '61 Bx',
    densityAt: '185 F',
    densityBy: 'hydrometer',
    clarity: 'clear',
    offFlavour: 'none',
    transmittance: '61 %',
  };
  const good = await write(packs, {
    ...jars,
    fromLots: [`${boil}:1 gal`],
    packedAt: ago(50),
    container: 'glass jar 8 fl oz',
    jars: '15',
    fillTemps: ['188 F@10:10', '186 F@10:25'],
    sealsFailed: '0',
  });
  const low = await write(packs, {
    ...jars,
    fromLots: [`${boil}:0.5 gal`],
    packedAt: ago(48),
    container: 'glass jar 8 fl oz',
    jars: '8',
    fillTemps: ['186 F', '178 F'],
  });
  const again = await write(packs, {
    ...jars,
    fromLots: [`${boil}:0.5 gal`],
    packedAt: ago(47),
    container: 'plastic jug 32 fl oz',
    jars: '2',
    fillTemps: ['179 F'],
    sealsFailed: '0',
  });
  await write(actions, {
    lot: again,
    found: '179 F in the first jug',
    done: 'heated and packed again',
    fillTemps: ['186 F'],
    densityReading: '61 Bx',
    densityAt: '185 F',
    densityBy: 'hydrometer',
  });
  await releaseLot(book, context, again, 'packed again at 186 F');
  const gone = await write(packs, {
    ...jars,
    fromLots: [`${boil}:0.25 gal`],
    packedAt: ago(46),
    container: 'glass jar 8 fl oz',
    jars: '4',
    fillTemps: ['186 F'],
    sealsFailed: '0',
  });
  await write(packsUnderway, {
    fromLots: [`${boil}:0.25 gal`],
    packedAt: ago(1),
    container: 'glass jar 8 fl oz',
    fillTemps: ['185 F'],
  });
  await write(dispatches, { lot: good, jars: '6', sentAt: ago(20), to: 'Millrace Green market', contact: 'stall 4' });
  await write(counts, { id: 'C01', lot: good, jars: '8', countedAt: ago(10) });
  await write(dispatches, { lot: gone, jars: '2', sentAt: ago(20), to: 'June Pascoe', kind: 'gift' });
  await holdLot(book, context, low, 'set aside on the bench');
  await recallLot(book, context, gone, 'mould found by a buyer');
  await write(side('instrument'), { id: 'T1', what: 'thermometer', made: 'dial, 8 in stem' });
  await write(side('check'), { instrument: 'T1', how: 'ice', should: '32 F', reads: '32.5 F' });
  await write(side('cleaning'), { what: 'finish pan and draw-off', with: 'unscented bleach', strength: '1 to 20' });
  await record(
    book,
    context,
    boils,
    {
      finishTemp: '218.1 F',
      beganAt: ago(76),
      syrupVolume: '3.1 gal',
      by: 'WE',
      gatherings: ['G041:120 gal'],
      finishedAt: ago(66),
      waterBoilsAt: '210.4 F',
      filterTemp: '191 F',
      filterMedium: 'wool cone',
      defoamer: 'none',
      restedFrom: ago(65),
      restedUntil: ago(52),
    },
    { of: boil, why: 'read the wrong line' },
  );
}
