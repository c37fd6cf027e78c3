/** A range of days, both included, as `2026-03-12`, and the rest of what was typed. */
export interface ParsedDays {
  readonly from: string;
  readonly to: string;
  /** The days as text, for the reason of a hit: `12 Mar 2026`. */
  readonly text: string;
  readonly rest: string;
}

const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const weekdays = ['sun', 'mon', 'tue', 'wed', 'thu', 'fri', 'sat'];
const monthName =
  '(jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\\.?';
const weekdayName =
  '(sun(?:day)?|mon(?:day)?|tue(?:s(?:day)?)?|wed(?:nesday)?|thu(?:rs(?:day)?)?|fri(?:day)?|sat(?:urday)?)';
const year = '(20\\d\\d)';

type Range = readonly [from: number, to: number];
type Rule = readonly [
  pattern: string,
  range: (parts: readonly (string | undefined)[], today: number) => Range | undefined,
];

const dayMs = 86_400_000;
const dateMs = (y: number, month: number, day: number): number => Date.UTC(y, month, day);
const monthOf = (name = ''): number => months.indexOf(name.slice(0, 3).toLowerCase());

/** Undefined for a day that doesn't exist, such as 31 April. */
function existingDay(y: number, month: number, day: number): Range | undefined {
  const ms = dateMs(y, month, day);
  const date = new Date(ms);
  return date.getUTCMonth() === month && date.getUTCDate() === day ? [ms, ms] : undefined;
}

/** Without a year: the newest such day or month that is not in the future. */
const yearOrLatest = (text: string | undefined, today: number, startsIn: (y: number) => number): number => {
  if (text !== undefined) return Number(text);
  const now = new Date(today).getUTCFullYear();
  return startsIn(now) > today ? now - 1 : now;
};

const wholeMonth = (y: number, month: number): Range => [dateMs(y, month, 1), dateMs(y, month + 1, 0)];

const dayAndMonth = (day: string | undefined, month: string | undefined, y: string | undefined, today: number) =>
  existingDay(
    yearOrLatest(y, today, (each) => dateMs(each, monthOf(month), Number(day))),
    monthOf(month),
    Number(day),
  );

/** Weeks begin on Monday. */
const mondayOf = (today: number): number => today - ((new Date(today).getUTCDay() + 6) % 7) * dayMs;

const rules: readonly Rule[] = [
  ['(\\d{4})-(\\d\\d)-(\\d\\d)', ([, y, m, d]) => existingDay(Number(y), Number(m) - 1, Number(d))],
  [
    '(\\d{4})-(\\d\\d)',
    ([, y, m]) => (Number(m) >= 1 && Number(m) <= 12 ? wholeMonth(Number(y), Number(m) - 1) : undefined),
  ],
  [
    `(\\d{1,2})(?:st|nd|rd|th)?\\.? (?:of )?${monthName}(?:,? ${year})?`,
    ([, d, m, y], today) => dayAndMonth(d, m, y, today),
  ],
  [`${monthName} (\\d{1,2})(?:st|nd|rd|th)?(?:,? ${year})?`, ([, m, d, y], today) => dayAndMonth(d, m, y, today)],
  [
    `${monthName}(?: ${year})?`,
    ([, m, y], today) =>
      wholeMonth(
        yearOrLatest(y, today, (each) => dateMs(each, monthOf(m), 1)),
        monthOf(m),
      ),
  ],
  ['today', (_, today) => [today, today]],
  ['yesterday', (_, today) => [today - dayMs, today - dayMs]],
  ['(\\d{1,3}) days? ago', ([, n], today) => [today - Number(n) * dayMs, today - Number(n) * dayMs]],
  ['this week', (_, today) => [mondayOf(today), today]],
  ['last week', (_, today) => [mondayOf(today) - 7 * dayMs, mondayOf(today) - dayMs]],
  ['this month', (_, today) => [dateMs(new Date(today).getUTCFullYear(), new Date(today).getUTCMonth(), 1), today]],
  ['last month', (_, today) => wholeMonth(new Date(today).getUTCFullYear(), new Date(today).getUTCMonth() - 1)],
  [
    `(?:last )?${weekdayName}`,
    ([, name], today) => {
      const back = (new Date(today).getUTCDay() - weekdays.indexOf((name ?? '').slice(0, 3).toLowerCase()) + 7) % 7;
      return [today - (back || 7) * dayMs, today - (back || 7) * dayMs];
    },
  ],
  [year, ([, y]) => [dateMs(Number(y), 0, 1), dateMs(Number(y), 11, 31)]],
];

/**
 * Finds a day, week, month or year in what somebody typed, in plain words: `April`, `12 Mar`, `last week`, `Tuesday`,
 * `2026-03-12`. Undefined where there is none. `today` is `2026-03-20`.
 */
export function parseDays(typed: string, today: string): ParsedDays | undefined {
  const todayMs = Date.parse(`${today}T00:00:00Z`);
  for (const [pattern, range] of rules) {
    const match = new RegExp(`(?:^|\\s)(?:(?:on|in|from) )?${pattern}(?=$|[\\s,])`, 'iu').exec(typed);
    const days = match && range(match, todayMs);
    if (!match || !days) continue;
    const [from, to] = days.map((ms) => new Date(ms).toISOString().slice(0, 10)) as [string, string];
    const rest = `${typed.slice(0, match.index)} ${typed.slice(match.index + match[0].length)}`;
    return { from, to, text: rangeText(from, to), rest: rest.replace(/[\s,]+/g, ' ').trim() };
  }
  return undefined;
}

const dayText = (day: string): string =>
  new Date(`${day}T00:00:00Z`).toLocaleDateString('en-GB', {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    timeZone: 'UTC',
  });

const rangeText = (from: string, to: string): string =>
  from === to ? dayText(from) : `${dayText(from)} to ${dayText(to)}`;
