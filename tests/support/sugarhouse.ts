import type { Book } from '#libs/store/book.js';
import { actions } from '#libs/actions/kinds/corrective-action.js';
import { counts } from '#libs/actions/kinds/count.js';
import type { WriteContext } from '#libs/actions/record/write-context.js';
import { draws } from '#libs/actions/kinds/draw.js';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { packs } from '#libs/actions/kinds/pack.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { sentencesOf } from '#libs/actions/record/problem.js';
import { boils } from '#libs/actions/kinds/boil.js';
import { record, type Recorded, type RecordOptions } from '#libs/actions/record/record.js';
import { dispatches } from '#libs/actions/kinds/dispatch.js';
import { houses } from '#libs/actions/kinds/house.js';
import { receipts } from '#libs/actions/kinds/receipt.js';
import { disposals } from '#libs/actions/kinds/disposal.js';

export const sugarhouse = 'home';

/** Wren Ellery writes in Harrow Notch, on an evening in May; a test changes what it needs. */
export const writeContext = (moved: Partial<WriteContext> = {}): WriteContext => ({
  sugarhouse,
  by: 'WE',
  author: 'WE',
  now: new Date('2026-05-01T22:00:00Z'),
  zone: 'America/New_York',
  ...moved,
});

type Texts = Readonly<Record<string, string | string[]>>;

/** An ordinary record of each kind; a test gives only the differences. */
const well: Readonly<Record<string, readonly [Kind, Texts]>> = {
  house: [
    houses,
    {
      name: 'Tamarack Hollow Sugarhouse',
      town: 'Harrow Notch, Vermont',
      postcode: '05000',
      place: 'Vermont',
      hydrometerMadeFor: '60-F',
      zone: 'America/New_York',
    },
  ],
  gathering: [
    gatherings,
    { id: 'G001', gatheredAt: '2026-03-17T16:30', source: 'North slope, buckets', volume: '120 gal', by: 'OE' },
  ],
  receipt: [
    receipts,
    {
      id: 'R001',
      supplier: 'Bracken Lane Sugarbush',
      contact: 'Bracken Lane, Harrow Notch',
      volume: '10 gal',
      density: '67 Bx',
      allergens: 'none',
      receivedAt: '2026-03-18T09:00',
      by: 'OE',
    },
  ],
  boil: [
    boils,
    {
      beganAt: '2026-03-18T07:30',
      finishedAt: '2026-03-18T19:00',
      gatherings: 'G001:120 gal',
      filterTemp: '192 F',
      filterMedium: 'wool cone',
      defoamer: 'none',
      syrupVolume: '3 gal',
      by: 'WE',
    },
  ],
  draw: [draws, { id: 'D01', boil: '26077A', drawnAt: '2026-03-18T14:05', volume: '3 qt', by: 'WE' }],
  pack: [
    packs,
    {
      fromLots: '26077A:3 gal',
      packedAt: '2026-03-19T10:00',
      hotPackTemp: '190 F',
      densityReading: '67.2 Bx',
      densityAt: '68 F',
      densityBy: 'refractometer',
      container: 'glass jar 8 fl oz',
      containerPrep: 'boiled 10 min, filled hot',
      jars: '48',
      fillTemps: ['188 F', '186 F', '185 F'],
      sealsFailed: '0',
      transmittance: '61 %',
      clarity: 'clear',
      offFlavour: 'none',
      by: 'OE',
    },
  ],
  dispatch: [dispatches, { lot: '26077A-1', jars: '12', sentAt: '2026-04-11T09:00', to: 'Millrace Green', by: 'JP' }],
  count: [counts, { id: 'C01', lot: '26077A-1', jars: '36', countedAt: '2026-04-20T18:00', by: 'WE' }],
  spent: [disposals, { lot: '26077A', how: 'house', by: 'WE' }],
  action: [
    actions,
    { lot: '26077A-1', found: 'third jar at 178 F', done: 'reheated, packed again in fresh boiled jars', by: 'WE' },
  ],
};
export type RecordName = keyof typeof well;

/** Records one ordinary thing with the differences in `but`; a blank text leaves a field out. */
export function write(
  book: Book,
  kind: RecordName,
  but: Texts = {},
  at: Partial<WriteContext> = {},
  recordOptions: RecordOptions = {},
): Promise<Recorded | Refusal> {
  const [definition, texts] = well[kind]!;
  // Additions and corrections contain only their own fields.
  const all = recordOptions.of === undefined ? { ...texts, ...but } : but;
  const sent = Object.fromEntries(Object.entries(all).filter(([, text]) => text !== ''));
  return record(book, writeContext(at), definition, sent, recordOptions);
}

/** The same, where the test is about something later: throws if it is refused. */
export async function recordOrThrow(
  book: Book,
  kind: RecordName,
  but: Texts = {},
  at: Partial<WriteContext> = {},
  recordOptions: RecordOptions = {},
): Promise<Recorded> {
  return done(await write(book, kind, but, at, recordOptions));
}

export function done<T extends object>(answer: T | Refusal): T {
  if ('problem' in answer) throw new Error(sentencesOf(answer.problem).join('\n'));
  return answer;
}

/** The kind of problem and its sentences, or that it was recorded after all. */
export function problemOf(answer: object): { kind: string; text: string } {
  if (!('problem' in answer)) return { kind: 'none', text: JSON.stringify(answer) };
  const { problem } = answer as Refusal;
  return { kind: problem.kind, text: sentencesOf(problem).join('\n') };
}

/** House, gathering, boil 26077A of 3 gal, and pack 26077A-1 of 48 half pints: all in order. */
export async function startSeason(book: Book): Promise<void> {
  for (const kind of ['house', 'gathering', 'boil', 'pack']) await recordOrThrow(book, kind);
}

/**
 * A row in every table: the started season, bought syrup, a draw-off, a blend, jars sent by code and by count, a shelf
 * count.
 */
export async function fullSeason(book: Book): Promise<void> {
  await startSeason(book);
  await recordOrThrow(book, 'receipt');
  await recordOrThrow(book, 'draw');
  await recordOrThrow(book, 'pack', {
    fromLots: ['26077A:1 qt', 'R001:1 qt'],
    jars: '8',
    packedAt: '2026-03-20T10:00',
    fillTemps: '85.5 C',
  });
  const jar = await book.read.row<{ code: string }>`SELECT code FROM jar WHERE pack = '26077A-1' AND n = 4`;
  await recordOrThrow(book, 'dispatch', { jars: jar?.code ?? '' });
  await recordOrThrow(book, 'dispatch', { jars: '7', sentAt: '2026-04-12T09:00' });
  await recordOrThrow(book, 'count', { jars: '39' });
  await recordOrThrow(book, 'gathering', { volume: '118 gal' }, {}, { why: 'read the wrong line of the stick' });
}
