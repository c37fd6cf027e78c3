import { closeSection, openSection, paragraph } from './pdf-flow.js';
import { ink, makeRoom, type Mark, type Paper } from './pdf-paper.js';
import { table, type TableColumn } from './pdf-table.js';
import { jarsSentTo } from './chart-flows.js';
import { sentOutByPlace } from './lot-columns.js';
import { drawPicture, type Picture } from './season-pictures.js';
import type { CarriedIn, Season } from './season.js';
import type { SeasonBoil, Spent } from './season-flow.js';
import type { SeasonLot } from './season-lot.js';
import { many, minute, shortDay, tenth, whole } from './shown.js';

/** One line a lot. */
export async function drawLots(paper: Paper, season: Season): Promise<void> {
  const section = openSection(paper, `The lots of ${season.year}`, { newPage: true });
  if (season.lots.length === 0) paragraph(section, `No lot was packed in ${season.year}.`);
  else await table(section, lotTable(season.year), season.lots);
  if (season.lots.length > 0) paragraph(section, lotNotes(season), { sizePt: 8.5, colour: ink.soft });
  closeSection(section);
}

/** Temperatures as they were read, never turned into the other unit. */
const lotTable = (year: number): readonly TableColumn<SeasonLot>[] => [
  { heading: 'Lot', of: (lot) => lot.lot, face: 'boldCode' },
  { heading: 'Boiled', of: (lot) => shortDay(lot.boiledAt[0] ?? null, year), face: 'figures' },
  { heading: 'Packed', of: (lot) => shortDay(lot.packedAt, year), face: 'figures' },
  { heading: 'Product and size', of: product, whole: true },
  { heading: 'Made', of: (lot) => whole(lot.jarsMade), align: 'right' },
  { heading: 'Lowest fill', of: (lot) => lot.lowestFillTyped ?? 'not read', align: 'right', mark: markMissingFill },
  { heading: 'Density °Bx', of: (lot) => (lot.brix === null ? 'not read' : tenth(lot.brix)), align: 'right' },
  {
    heading: 'Seals failed',
    of: (lot) => (lot.sealsFailed === null ? '–' : whole(lot.sealsFailed)),
    align: 'right',
  },
  { heading: 'Sent out by place', of: sentOutByPlace },
  { heading: 'On hand', of: (lot) => whole(lot.jarsOnHand), align: 'right' },
  { heading: 'Destroyed', of: (lot) => whole(lot.jarsDestroyed), align: 'right' },
  { heading: 'Other', of: (lot) => whole(lot.jarsOther), align: 'right' },
  {
    heading: 'Unaccounted',
    of: (lot) => (lot.unaccounted === null ? '–' : whole(lot.unaccounted)),
    align: 'right',
  },
  { heading: 'Status', of: (lot) => statusWord(lot), mark: (lot) => statusMark(lot) },
];

function product(lot: SeasonLot): string {
  return lot.colour === null ? lot.container : `${lot.colour}, ${lot.container}`;
}

function markMissingFill(lot: SeasonLot): Mark {
  return lot.lowestFillTyped === null ? { face: 'bold' } : {};
}

export const statusWord = (lot: SeasonLot): string =>
  lot.status === 'held' || lot.status === 'recalled' ? lot.status.toUpperCase() : lot.status;

export const statusMark = (lot: SeasonLot): Mark =>
  lot.status === 'held' || lot.status === 'recalled' ? { face: 'bold', colour: ink.stamp } : {};

function lotNotes(season: Season): string {
  const carried = season.carriedIn.map((from) => carriedWords(from)).join(' ');
  return (
    'Temperatures stand as they were read, in the jar when it was capped. Density is worked out to °Bx at 20 °C. ' +
    `Other: kept, retained, samples and broken. A dash: not checked, or not counted yet. ${carried}`
  ).trim();
}

const carriedWords = (from: CarriedIn): string =>
  `Carried in from before: ${from.volumeTyped} of ${from.code} into ${from.into}.`;

/** Places and what each was sent, with the picture beside the table's section. */
export async function drawWhereJarsWent(paper: Paper, season: Season, picture: Picture | undefined): Promise<void> {
  const places = placesOf(season);
  const section = openSection(paper, 'Where the jars went', { needsPt: 120 });
  if (places.length === 0) paragraph(section, 'No jar of this season has been sent out.');
  else {
    if (picture) drawPicture(section, picture, 340, 30 + 19 * Math.min(Math.max(1, jarsSentTo(season).length), 13));
    await table(section, placeTable, places);
  }
  closeSection(section);
}

interface PlaceLine {
  readonly place: string;
  readonly kinds: string;
  readonly jars: number;
  readonly lots: readonly string[];
}

function placesOf(season: Season): PlaceLine[] {
  const byPlace = new Map<string, { kinds: Set<string>; jars: number; lots: string[] }>();
  for (const lot of season.lots)
    for (const sent of lot.sentTo) {
      const line = byPlace.get(sent.place) ?? { kinds: new Set<string>(), jars: 0, lots: [] };
      line.kinds.add(sent.kind);
      line.jars += sent.jars;
      line.lots.push(`${lot.lot} (${sent.jars})`);
      byPlace.set(sent.place, line);
    }
  return [...byPlace]
    .map(([place, line]) => ({ place, kinds: [...line.kinds].join(', '), jars: line.jars, lots: line.lots }))
    .sort((one, other) => other.jars - one.jars || one.place.localeCompare(other.place));
}

const placeTable: readonly TableColumn<PlaceLine>[] = [
  { heading: 'Place', of: (line) => line.place, face: 'bold' },
  { heading: 'As', of: (line) => line.kinds },
  { heading: 'Jars', of: (line) => whole(line.jars), align: 'right' },
  { heading: 'Of lots', of: (line) => line.lots.join(', '), face: 'code' },
];

/** Sap to syrup, boil by boil, with every reading as typed. */
export async function drawBoils(paper: Paper, season: Season): Promise<void> {
  const section = openSection(paper, 'The boils', { needsPt: 90 });
  if (season.boils.length === 0) paragraph(section, `No boil was begun in ${season.year}.`);
  else await table(section, boilTable, season.boils);
  closeSection(section);
}

/** Sap and syrup that went into no jar; nothing is drawn where there was none. */
export async function drawSpent(paper: Paper, season: Season): Promise<void> {
  if (season.spent.length === 0) return;
  const section = openSection(paper, 'Used or thrown out', { needsPt: 70 });
  await table(section, spentTable, season.spent);
  closeSection(section);
}

const spentTable: readonly TableColumn<Spent>[] = [
  { heading: 'Of', of: (one) => one.lot, face: 'boldCode' },
  { heading: 'How much', of: (one) => one.volumeTyped, align: 'right' },
  { heading: 'What became of it', of: (one) => one.how },
  { heading: 'When', of: (one) => minute(one.at), face: 'figures' },
  { heading: 'Why', of: (one) => one.why ?? '' },
  { heading: 'By', of: (one) => one.by ?? '' },
];

const inputWords = (boil: SeasonBoil): string =>
  [...boil.inputs, ...boil.carriedFrom].map((input) => `${input.code} ${input.volumeTyped}`).join(', ');

const typedOf = (boil: SeasonBoil, kind: string): string =>
  boil.readings
    .filter((reading) => reading.kind === kind)
    .map((reading) => reading.typed)
    .join(', ') || 'not read';

const boilTable: readonly TableColumn<SeasonBoil>[] = [
  { heading: 'Boil', of: (boil) => boil.lot, face: 'boldCode' },
  { heading: 'Began', of: (boil) => minute(boil.beganAt), face: 'figures' },
  { heading: 'Finished', of: (boil) => minute(boil.finishedAt), face: 'figures' },
  { heading: 'From', of: inputWords, face: 'code' },
  { heading: 'Sap', of: (boil) => boil.sapVolumeTyped ?? 'not read', align: 'right' },
  { heading: 'Water boils', of: (boil) => typedOf(boil, 'water boils'), align: 'right' },
  { heading: 'Finish', of: (boil) => typedOf(boil, 'finish'), align: 'right' },
  { heading: 'Filter', of: (boil) => [typedOf(boil, 'filter'), boil.filterMedium ?? ''].join(' ').trim() },
  { heading: 'Defoamer', of: (boil) => boil.defoamer ?? 'none' },
  { heading: 'Allergens', of: (boil) => boil.defoamerAllergens ?? '' },
  { heading: 'Syrup', of: (boil) => boil.syrupVolumeTyped, align: 'right' },
  { heading: 'By', of: (boil) => boil.by },
];

/** The close of the season: what is still missing. */
export async function drawMissing(paper: Paper, season: Season): Promise<void> {
  const section = openSection(paper, 'Still missing', { needsPt: 60 });
  if (season.missing.length === 0) paragraph(section, 'Nothing: every lot of this season is complete.');
  else {
    paragraph(section, `${many(season.missing.length, 'thing')} to see to before the season is closed.`);
    await table(section, missingTable, season.missing);
  }
  makeRoom(paper, 20);
  closeSection(section);
}

const missingTable: readonly TableColumn<Season['missing'][number]>[] = [
  { heading: 'Of', of: (item) => item.code ?? 'the season', face: 'code' },
  { heading: 'What is missing', of: (item) => item.words },
];
