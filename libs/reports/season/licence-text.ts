import type { Licence } from './supporting-records.js';

/** `producer licence 0000, valid until 2026-12-31`: a missing date is reported as missing. */
export const licenceText = ({ what, number, until }: Licence): string =>
  `${[what, number].filter(Boolean).join(' ')}, valid until ${until ?? 'not recorded'}`;

/** The last day of validity, where it was typed as a date: `2026-12-31`, `31 Dec 2026`, or a bare year. */
export function lastDayOf(until: string): string | undefined {
  const text = until.trim();
  const iso = /\b(\d{4}-\d{2}-\d{2})\b/.exec(text);
  if (iso?.[1]) return iso[1];
  if (/^\d{4}$/.test(text)) return `${text}-12-31`;
  const named = /^(?:(\d{1,2})\s+)?([A-Za-z]{3})[a-z]*\.?\s+(?:(\d{1,2}),?\s+)?(\d{4})$/.exec(text);
  const month = named ? months.indexOf((named[2] ?? '').toLowerCase()) + 1 : 0;
  const day = named?.[1] ?? named?.[3];
  if (!named || month === 0 || day === undefined) return undefined;
  return `${named[4] ?? ''}-${String(month).padStart(2, '0')}-${day.padStart(2, '0')}`;
}

const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
