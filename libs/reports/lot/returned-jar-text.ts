import type { SupportingRecordBody } from '#libs/records/kinds/supporting-record.js';
import type { DensityReading, Temperature } from '#libs/syrup/quantities/quantities.js';
import type { ReturnedJarJudged } from '#libs/syrup/contents/judge-complaint.js';
import { formatTemperature, formatDensity } from '#libs/syrup/quantities/format-quantities.js';

/** The observations on a returned jar, in one line; free text from an older book stays as it is. */
export function returnedJarText(body: SupportingRecordBody): string {
  return [
    labelled('seal', body['seal']),
    labelled('mould', body['mould']),
    labelled('smell', body['smell']),
    densityText(body),
  ]
    .filter(Boolean)
    .join(', ');
}

/** Its verdict when it was recorded; undefined where it is older than that rule. */
export const returnedJarJudged = (body: SupportingRecordBody): ReturnedJarJudged | undefined =>
  body['judged'] as ReturnedJarJudged | undefined;

const labelled = (what: string, word: unknown): string =>
  typeof word === 'string' && word !== '' ? `${what} ${word.replaceAll('-', ' ')}` : '';

function densityText(body: SupportingRecordBody): string {
  const read = body['density'];
  if (typeof read === 'string') return read && `density ${read}`;
  if (!read) return '';
  const at = body['densityAt'] ? ` at ${formatTemperature(body['densityAt'] as Temperature)}` : '';
  const judged = returnedJarJudged(body);
  const brix =
    judged && judged.brix !== null
      ? `: ${judged.brix.toFixed(1)} ± ${(judged.brixUncertainty ?? 0).toFixed(1)} °Bx`
      : '';
  return `density ${formatDensity(read as DensityReading)}${at}${brix}`;
}
