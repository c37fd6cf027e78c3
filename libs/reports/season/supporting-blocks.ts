import type { Block } from '#libs/pdf/blocks.js';
import { day, minute, named, rootText, whole } from '#libs/format/format.js';
import { keyLines } from './key.js';
import { instrumentBlocks, mockRecallText, placesBlock, riskBlock } from './page-one-text.js';
import { checkText, mixedAsks } from './risks.js';
import type { Season } from './season.js';
import { unrecorded, unrecordedText } from './unrecorded.js';

/** The blocks of the page of supporting records, the most important first: what doesn't fit is only in the workbook. */
export const supportingBlocks = (season: Season): readonly Block[] =>
  [
    riskBlock(season),
    { title: 'Not recorded', lines: unrecorded(season).map((each) => unrecordedText(each, 12)) },
    ...instrumentBlocks(season).slice(0, 1),
    ...testAndTrainingBlocks(season),
    ...upkeepBlocks(season),
    {
      title: 'Before the season is closed',
      lines: season.missing.map((item) => `${item.code ? `${item.code}: ` : ''}${item.words}`),
    },
    ...referenceBlocks(season),
  ].filter((block) => block.lines.length > 0);

/** Checks, tests, licences, training, recalls and complaints: evidence that the work was controlled. */
function testAndTrainingBlocks({ side, people }: Season): readonly Block[] {
  return [
    latest(
      'Checks of instruments',
      side.instrumentChecks,
      (one) =>
        `${minute(one.checkedAt)} ${one.instrument}, ${one.against}: should read ${orNot(one.expectedTyped)}, read ${orNot(one.foundTyped)}: ${checkText(one)}` +
        `${one.suspectLots.length > 0 ? `; suspect lots: ${one.suspectLots.join(', ')}` : ''}, ${one.by}`,
    ),
    latest(
      'Water tests',
      side.waterTests,
      (one) => `${day(one.at)} ${one.source}, ${orNot(one.laboratory)}: ${one.outcome}`,
    ),
    latest(
      'Lead tests',
      side.leadTests,
      (one) =>
        `${day(one.at)} ${one.lot ?? one.equipment ?? 'of what: not recorded'}, ${orNot(one.laboratory)}: ${one.typed}`,
    ),
    latest('Licences', side.licences, (one) => `${one.what} ${one.number}, valid until ${orNot(one.until)}`),
    latest(
      'Hygiene training',
      side.trainings,
      (one) => `${day(one.at)} ${named(one.initials, people)}: ${one.subject}`,
    ),
    latest(
      'Mock recalls',
      side.practiceRecalls.filter((one) => one.closed),
      mockRecallText,
    ),
    latest(
      'Complaints',
      side.complaints,
      (one) =>
        `${day(one.at)} ${orNot(one.code)}: ${one.words}; seen: ${one.seen || 'not recorded'}; done: ${one.done || 'not recorded'}`,
    ),
    ...side.others.map(({ name, columns, rows }) =>
      latest(
        name,
        rows,
        (one) =>
          `${day(one.at)} ${columns.map((column, n) => `${column}: ${orNot(one.cells[n] ?? null)}`).join(', ')}, ${one.by}`,
      ),
    ),
  ];
}

/** Equipment, cleaning, supplies, and syrup that went into no jar. */
function upkeepBlocks(season: Season): readonly Block[] {
  const { side } = season;
  return [
    latest(
      'Equipment',
      side.equipment,
      (one) => `${one.name}: ${orNot(one.material)}, made ${orNot(one.year)}, solder: ${orNot(one.solder)}`,
    ),
    latest(
      'Cleaning',
      side.cleanings,
      (one) =>
        `${day(one.at)} ${one.what}, with ${one.withWhat}, strength ${orNot(one.strength)}. Rinsed: ${orNot(one.rinsed)}.${one.mixed ? ` ADVISORY: ${mixedAsks[one.mixed]}.` : ''} ${one.by}`,
    ),
    latest(
      'Filters washed',
      side.filterWashings,
      (one) => `${day(one.at)} ${one.filter}: ${orNot(one.how)}, ${one.by}`,
    ),
    latest(
      'Containers and other supplies',
      side.supplies,
      (one) => `${day(one.receivedAt)} ${one.item} from ${one.supplier}, their lot ${orNot(one.supplierLot)}`,
    ),
    {
      title: 'Defoamers, as recorded for each boil',
      lines: defoamerLines(season),
    },
    latest(
      'Sap and syrup used, lost or thrown out',
      season.spent,
      (one) => `${day(one.at)} ${one.lot}: ${one.volumeTyped}, ${one.how}${one.why ? `, ${one.why}` : ''}`,
    ),
  ];
}

/** What the rest of the document refers to: places, cautions, authorities, codes and the root of the log. */
const referenceBlocks = (season: Season): readonly Block[] => [
  placesBlock(season),
  { title: 'Cautions, with their sources', lines: season.cautions.map((one) => `${one.words} (${one.source})`) },
  {
    title: 'Authorities',
    lines: season.authorities.map(
      (one) =>
        `${one.asksAbout === '' ? one.name : `${one.name}, ${one.asksAbout}`}: telephone ${one.contact ?? 'not recorded'}`,
    ),
  },
  { title: 'Key to the codes', lines: keyLines(season).map((line) => `${line.code}: ${line.means}`) },
  { title: 'What the root means', lines: [rootText(season.record)] },
];

const maxPerKind = 6;

/** The latest of a kind, and how many there are in total. */
function latest<Row>(title: string, rows: readonly Row[], of: (row: Row) => string): Block {
  if (rows.length === 0) return { title, lines: ['not recorded'] };
  const shown = rows.slice(-maxPerKind).map(of);
  const more = rows.length - shown.length;
  return {
    title: `${title}: ${whole(rows.length)}`,
    lines: more > 0 ? [...shown, `and ${more} before, in the sheet`] : shown,
  };
}

const orNot = (text: string | null): string => text ?? 'not recorded';

/** `butter (milk): 26076A, 26077A`; boils without a defoamer entry are listed as not recorded. */
function defoamerLines(season: Season): readonly string[] {
  const used = new Map<string, string[]>();
  for (const boil of season.boils) {
    const text =
      boil.defoamer === null
        ? 'not recorded'
        : `${boil.defoamer}${boil.defoamerAllergens === null ? ', allergens not recorded' : `, allergens: ${boil.defoamerAllergens}`}`;
    used.set(text, [...(used.get(text) ?? []), boil.lot]);
  }
  return [...used].map(([text, boils]) => `${text}: ${boils.join(', ')}`);
}
