/** `2026-03-19T14:10:00-04:00` → `14:10`. Times are shown as written, in the offset they were written with. */
export const clock = (moment: string): string => moment.slice(11, 16);

/** `19 Mar` in the year of `now`, else `19 Mar 2025`. */
export function dayText(moment: string, now?: string): string {
  const [year = '', month = '', day = ''] = moment.slice(0, 10).split('-');
  const text = `${Number(day)} ${months[Number(month) - 1] ?? month}`;
  return now?.startsWith(year) ? text : `${text} ${year}`;
}

/** A text of documents with its ISO days as pages write them: `sale, 2026-05-02` → `sale, 2 May`. */
export const withDaysAsText = (text: string, now: string): string =>
  text.replace(/\b\d{4}-\d{2}-\d{2}\b/g, (day) => dayText(day, now));

/** `today 14:10`, `yesterday 20:10`, `19 Mar 14:10`. */
export function momentText(moment: string, now: string): string {
  const days = daysBetween(moment, now);
  const day = days === 0 ? '' : days === 1 ? 'yesterday ' : days === -1 ? 'tomorrow ' : `${dayText(moment, now)} `;
  return `${day}${clock(moment)}`;
}

/** Time elapsed between two moments: `12 h`, `40 min`, `3 days`. */
export function elapsed(from: string, to: string): string {
  const minutes = Math.max(0, Math.round((Date.parse(to) - Date.parse(from)) / 60_000));
  if (minutes < 60) return `${minutes} min`;
  if (minutes < 48 * 60)
    return minutes % 60 === 0 ? `${minutes / 60} h` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
  return `${Math.floor(minutes / (24 * 60))} days`;
}

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

const daysBetween = (moment: string, now: string): number =>
  Math.round((Date.parse(now.slice(0, 10)) - Date.parse(moment.slice(0, 10))) / 86_400_000);
