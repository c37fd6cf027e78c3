import { momentIn } from '#libs/actions/record/times.js';
import { recordsOf, yearsRecorded } from '#libs/store/queries/lots.js';
import { drawCharts } from '#libs/reports/charts/charts.js';
import { pictureNames } from '#libs/reports/charts/chart-plans.js';
import { onPage } from '#libs/reports/charts/chart-style.js';
import { type PictureTable, pictureTables } from '#libs/reports/charts/chart-tables.js';
import type { Risk } from '#libs/reports/season/risks.js';
import { asSentence } from '#libs/format/as-sentence.js';
import { notSigned } from '#libs/reports/season/page-one-text.js';
import type { SeasonLot } from '#libs/reports/season/lot.js';
import type { Season } from '#libs/reports/season/season.js';
import { seasonSummary, type SeasonSummary } from '#libs/reports/season/json.js';
import { syrupMillilitres } from '#libs/reports/season/totals.js';
import { formatSeasonVolume } from '#libs/format/format-volume.js';
import { classSwatch } from '#libs/reports/diagram/swatch.js';
import type { Rendered } from '#pages/parts/drawing.js';
import { Pictures } from '#pages/season/pictures.js';
import { returnRow } from '../returns/return-rows.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { formContext } from '../../forms/form-view.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { renderPart } from '../../http/render.js';
import { many, named } from '../../text/amounts.js';
import { rowsPerPage, pageOfRows } from '../../text/paged-rows.js';
import { clock, dayText } from '../../text/times.js';
import { cachedSeason } from './cached-season.js';

/** The newest year with records; the current year of the house's time zone where there is none. */
export async function currentYear(principal: Principal): Promise<number> {
  const years = await yearsRecorded(readerOf(principal));
  const { parseOptions: options } = await formContext(principal);
  return years[0] ?? Number(momentIn(options.zone, principal.writeContext.now).slice(0, 4));
}

/** A season in five numbers and a line for each lot, with what is still missing to close it. */
export async function seasonPage(principal: Principal, year: number, query: Posted = {}) {
  const season = await cachedSeason(principal, year);
  const summary = summaries.get(season) ?? seasonSummary(season);
  summaries.set(season, summary);
  const beside = ['lots', 'missing'].flatMap((name): [string, string][] =>
    firstText(query[name]) === '' ? [] : [[name, firstText(query[name])]],
  );
  const listOptions = (param: string, noun: string, plural: string) => ({
    ...{ address: `/season/${year}`, param, noun, plural, beside },
  });
  const lots = pageOfRows(season.lots, firstText(query['lots']), listOptions('lots', 'lot', 'lots'));
  return {
    title: `Season ${year}`,
    here: 'season',
    year,
    years: await yearsRecorded(readerOf(principal)),
    totals: totalsOf(season, summary),
    lots: lots.rows.map((lot) => lotRow(lot, year)),
    risks: summary.risks.map((risk) => ({ ...risk, answer: answerLink(risk) })),
    complaints: await complaintsOf(principal, year),
    mockRecalls: season.side.practiceRecalls.map((each) => ({
      when: `${dayText(each.at, String(year))} ${clock(each.at)}`,
      by: each.by,
      lot: each.lot,
      text: each.words,
      took: each.minutes === null ? '' : `within ${many(each.minutes, 'minute')}`,
    })),
    moreLots: lots,
    missing: season.missing,
    missingShown: pageOfRows(
      season.missing,
      firstText(query['missing']),
      listOptions('missing', 'thing missing', 'things missing'),
    ),
    closed: season.closed && {
      by: season.closed.by,
      when: `${dayText(season.closed.at)} ${clock(season.closed.at)}`,
      notSigned: asSentence(notSigned(season.closed, season.record)),
      isChanged: season.closed.lotEntriesSince > 0,
    },
    record: season.record,
  };
}

function totalsOf(season: Season, { totals }: SeasonSummary) {
  const counted = (count: number, noun: string) => ({ reading: String(count), limit: named(count, noun) });
  return [
    counted(totals.boils, 'boil'),
    counted(totals.packs, 'pack'),
    counted(totals.jarsMade, 'jar'),
    { reading: formatSeasonVolume(season, syrupMillilitres(season)), limit: 'of syrup made' },
    { reading: String(totals.held), limit: 'held' },
    ...(totals.recalled > 0 ? [{ reading: String(totals.recalled), limit: 'recalled' }] : []),
  ];
}

const lotRow = (lot: SeasonLot, year: number) => ({
  lot: lot.lot,
  packed: dayText(lot.packedAt, String(year)),
  container: lot.container,
  made: lot.jarsMade,
  out: lot.jarsSentOut,
  onHand: lot.jarsOnHand,
  unaccounted: lot.unaccounted ?? 'not counted',
  fill: lot.lowestFillTyped?.replace(/\s*([FC])$/i, ' °$1') ?? 'not read',
  brix: lot.brix === null ? 'not read' : lot.brix.toFixed(1),
  colour: lot.colour,
  swatch: lot.colour ? classSwatch(lot.colour) : undefined,
  status: lot.status,
  sealsUnchecked: lot.findings.some(({ rule }) => rule === 'seals-not-checked'),
});

/** Cached with the season that was read, as the pictures are. */
const summaries = new WeakMap<Season, SeasonSummary>();

/** The form that records the answer to each question. */
const answerForms: Readonly<Record<Risk['matter'], readonly [plural: string, field: string, label: string]>> = {
  lead: ['lead-tests', 'equipment', 'Record a lead test'],
  water: ['water-tests', 'source', 'Record a water test'],
  licence: ['licences', 'what', 'Record the licence'],
  training: ['trainings', 'what', 'Record training'],
  instrument: ['checks', 'instrument', 'Record a check'],
  cleaning: ['cleanings', 'what', 'Record that it was rinsed'],
};

function answerLink({ matter, subject }: Risk): { readonly href: string; readonly label: string } {
  const [plural, field, label] = answerForms[matter];
  const known = subject === null ? '' : `?${new URLSearchParams({ [field]: subject }).toString()}`;
  return { href: `/supporting-records/${plural}/new${known}`, label };
}

/** Complaints from customers and makers about jars of this year, newest first. */
async function complaintsOf(principal: Principal, year: number) {
  const all = await recordsOf(readerOf(principal), 'complaint', year);
  return all.reverse().map(({ id, body }) => returnRow(id, body, String(year)));
}

/** The charts of the season, each drawn for a phone and for a desktop, with their figures. */
export async function picturesPage(principal: Principal, year: number) {
  const season = await cachedSeason(principal, year);
  const body = renderedPictures.get(season) ?? renderPart(Pictures({ year, pictures: drawPictures(season) }));
  renderedPictures.set(season, body);
  return { title: `Pictures of ${year}`, here: 'season', year, body };
}

/** Cached with the season that was read: that is replaced when something is written, or after a minute. */
const renderedPictures = new WeakMap<Season, Rendered>();

function drawPictures(season: Season) {
  const tables = pictureTables(season);
  const [narrow, wide] = [drawCharts(season, 'phone'), drawCharts(season, 'desktop')];
  return pictureNames.map((name) => ({
    title: narrow[name].title,
    caption: narrow[name].caption,
    narrow: onPage(narrow[name].svg),
    broad: onPage(wide[name].svg),
    table: firstTableRows(tables[name]),
  }));
}

/** The first hundred rows of a long table, and its total; the yearly summary has them all. */
function firstTableRows(table: PictureTable) {
  const { lines, summed } = table;
  if (lines.length <= rowsPerPage + 1) return { ...table, left: 0 };
  const sum = summed ? lines.slice(-1) : [];
  return { ...table, lines: [...lines.slice(0, rowsPerPage), ...sum], left: lines.length - sum.length - rowsPerPage };
}
