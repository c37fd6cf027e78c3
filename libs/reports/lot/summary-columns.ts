import { formatSpans } from '#libs/syrup/jars/jar-spans.js';
import type { SeasonLot } from '../season/lot.js';
import { day } from '#libs/format/format.js';

/** A column of the lot table, the same in CSV and in the spreadsheet. The unit is in the heading. */
export interface SheetColumn<Row> {
  readonly heading: string;
  readonly holds: 'text' | 'number' | 'time';
  readonly widthChars: number;
  readonly of: (row: Row) => string | number | null;
}

/** `26077A 2026-03-18; R007 bought 2026-03-21`. */
export const boiledText = (lot: SeasonLot): string =>
  lot.boiled.map(({ code, kind, at }) => `${code} ${kind === 'receipt' ? 'bought ' : ''}${day(at)}`).join('; ');

/** The product as recorded: a lot whose product was left blank is judged as pure maple syrup, and nobody wrote that. */
const productText = (lot: SeasonLot): string => lot.product ?? 'not recorded';

/** The fill readings of a lot that later readings replaced. */
export const replacedText = (lot: SeasonLot): string =>
  lot.fills
    .filter((fill) => fill.replaced)
    .map(({ reading }) => reading.typed)
    .join('; ');

/** The reading behind the verdict: `60.4 Bx at 185 F, hydrometer, read again`. */
export function densityText(lot: SeasonLot): string {
  const judged = lot.densityJudged;
  if (!judged) return '';
  const { typed, sampleTyped, by, again } = judged;
  return [`${typed}${sampleTyped ? ` at ${sampleTyped}` : ''}`, by, again ? 'read again' : null]
    .filter(Boolean)
    .join(', ');
}

/** The columns of an inspector's yearly summary: code, dates, size, made, readings, destinations, what is left. */
export const summaryColumns: readonly SheetColumn<SeasonLot>[] = [
  { heading: 'Lot', holds: 'text', widthChars: 12, of: (lot) => lot.lot },
  { heading: 'Boils', holds: 'text', widthChars: 16, of: (lot) => lot.boils.join('; ') },
  { heading: 'Boiled', holds: 'time', widthChars: 17, of: (lot) => lot.boiled[0]?.at ?? null },
  { heading: 'Syrup of', holds: 'text', widthChars: 28, of: boiledText },
  { heading: 'Packed', holds: 'time', widthChars: 17, of: (lot) => lot.packedAt },
  { heading: 'Product', holds: 'text', widthChars: 18, of: productText },
  { heading: 'Container', holds: 'text', widthChars: 22, of: (lot) => lot.container },
  { heading: 'Colour class', holds: 'text', widthChars: 12, of: (lot) => lot.colour },
  { heading: 'Syrup (L)', holds: 'number', widthChars: 10, of: (lot) => lot.syrupLitres },
  { heading: 'Made (jars)', holds: 'number', widthChars: 10, of: (lot) => lot.jarsMade },
  { heading: 'Lowest fill as read', holds: 'text', widthChars: 14, of: (lot) => lot.lowestFillTyped },
  { heading: 'Lowest fill (deg F)', holds: 'number', widthChars: 12, of: (lot) => lot.lowestFillF },
  { heading: 'Lowest fill read with', holds: 'text', widthChars: 12, of: (lot) => lot.lowestFillBy },
  { heading: 'Fill readings replaced', holds: 'text', widthChars: 24, of: replacedText },
  {
    heading: 'Jars no fill reading covers',
    holds: 'text',
    widthChars: 18,
    of: (lot) => (lot.uncoveredJars.length > 0 ? formatSpans(lot.uncoveredJars) : null),
  },
  { heading: 'Density (deg Bx at 20 C)', holds: 'number', widthChars: 12, of: (lot) => lot.brix },
  { heading: 'Density as read', holds: 'text', widthChars: 22, of: densityText },
  { heading: 'Allergens', holds: 'text', widthChars: 14, of: (lot) => lot.allergensSaid },
  { heading: 'Seals failed (jars)', holds: 'number', widthChars: 10, of: (lot) => lot.sealsFailed },
  { heading: 'Sent out by place', holds: 'text', widthChars: 36, of: sentOutByPlace },
  { heading: 'Sent out (jars)', holds: 'number', widthChars: 10, of: (lot) => lot.jarsSentOut },
  { heading: 'Returned, taken off sent out (jars)', holds: 'number', widthChars: 12, of: (lot) => lot.jarsReturned },
  { heading: 'On hand (jars)', holds: 'number', widthChars: 10, of: (lot) => lot.jarsOnHand },
  { heading: 'Destroyed (jars)', holds: 'number', widthChars: 10, of: (lot) => lot.jarsDestroyed },
  { heading: 'Kept, samples, broken (jars)', holds: 'number', widthChars: 12, of: (lot) => lot.jarsOther },
  { heading: 'Other, as', holds: 'text', widthChars: 22, of: (lot) => lot.otherText },
  { heading: 'Unaccounted (jars)', holds: 'number', widthChars: 12, of: (lot) => lot.unaccounted },
  { heading: 'Status', holds: 'text', widthChars: 10, of: (lot) => lot.status },
  { heading: 'Findings', holds: 'text', widthChars: 40, of: findingText },
  { heading: 'Late entries', holds: 'number', widthChars: 10, of: (lot) => lot.lateEntries.length },
  { heading: 'By', holds: 'text', widthChars: 6, of: (lot) => lot.by },
];

/** The columns of a season's lots: the fixed ones, then the fields that are declared for the summary. */
export const lotColumns = (lots: readonly SeasonLot[]): readonly SheetColumn<SeasonLot>[] => [
  ...summaryColumns,
  ...(lots[0]?.declared ?? []).map(({ name, label }): SheetColumn<SeasonLot> => ({
    heading: label,
    holds: 'text',
    widthChars: 18,
    of: (lot) => lot.declared?.find((field) => field.name === name)?.text ?? null,
  })),
];

/** `Millrace Green 40; Bracken Lane Sugarbush 12 (gift)`. Only what left the sugarhouse. */
export function sentOutByPlace(lot: SeasonLot): string {
  return lot.sentTo
    .filter((sent) => sent.kind === 'sale' || sent.kind === 'gift')
    .map((sent) => `${sent.place} ${sent.jars}${sent.kind === 'gift' ? ' (gift)' : ''}`)
    .join('; ');
}

function findingText(lot: SeasonLot): string {
  return lot.findings.map((finding) => `${finding.stop ? 'stop' : 'advice'}: ${finding.found}`).join('; ');
}
