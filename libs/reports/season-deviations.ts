import { closeSection, openSection, paragraph } from './pdf-flow.js';
import type { Paper } from './pdf-paper.js';
import { table, type TableColumn } from './pdf-table.js';
import { statusMark, statusWord } from './season-lots.js';
import type { LotFinding, SeasonLot } from './season-lot.js';
import type { Season } from './season.js';
import { minute, named } from './shown.js';

/** What a rule stopped or spoke of, finding by finding, and what was done about each lot. */
export async function drawDeviations(paper: Paper, season: Season): Promise<void> {
  const section = openSection(paper, 'Deviations and what was done', { needsPt: 90 });
  const lines = season.lots.flatMap((lot) => deviationsOf(lot, season));
  if (lines.length === 0) paragraph(section, 'No rule found anything in any lot of this season.');
  else await table(section, deviationTable, lines);
  closeSection(section);
}

/** A finding, or what was done; the status of the lot stands on its first line. */
interface DeviationLine {
  readonly lot: SeasonLot;
  readonly first: boolean;
  readonly finding: LotFinding | null;
  readonly found: string;
}

/** Stops before advice, then what was done; a lot with none of them has no line. */
function deviationsOf(lot: SeasonLot, season: Season): readonly DeviationLine[] {
  const stops = lot.findings.filter((finding) => finding.stop);
  const advice = lot.findings.filter((finding) => !finding.stop);
  const found = [...stops, ...advice].map((finding) => ({
    finding,
    found: finding.stop ? finding.found : `Advice: ${finding.found}`,
  }));
  const why = found.length === 0 && lot.statusWhy !== null ? [lot.statusWhy] : [];
  const done = doneWords(lot, season);
  const nothing = done.length === 0 && (stops.length > 0 || why.length > 0) ? ['Done: nothing yet.'] : [];
  const told = [...why, ...done, ...nothing].map((words) => ({ finding: null, found: words }));
  return [...found, ...told].map((line, index) => ({ lot, first: index === 0, ...line }));
}

function doneWords(lot: SeasonLot, season: Season): readonly string[] {
  const acts = lot.correctiveActions.map(
    (act) => `Done ${minute(act.at)}, ${named(act.by, season.people)}: ${act.done}${readAgain(act.readings)}`,
  );
  if (!lot.released) return acts;
  const { at, by, why } = lot.released;
  return [...acts, `Released ${minute(at)}, ${named(by, season.people)}: ${why}`];
}

const readAgain = (readings: SeasonLot['readings']): string =>
  readings.length === 0 ? '' : ` Read again: ${readings.map((reading) => reading.typed).join(', ')}.`;

const deviationTable: readonly TableColumn<DeviationLine>[] = [
  { heading: 'Lot', of: (line) => line.lot.lot, face: 'boldCode' },
  { heading: 'Now', of: (line) => (line.first ? statusWord(line.lot) : ''), mark: (line) => statusMark(line.lot) },
  {
    heading: 'Found, and what was done',
    of: (line) => line.found,
    mark: (line) => (line.finding?.stop ? { face: 'bold' } : {}),
  },
  { heading: 'Limit', of: (line) => line.finding?.limit ?? '' },
  { heading: 'Source', of: (line) => line.finding?.source ?? '' },
];
