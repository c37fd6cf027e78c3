/** Normalizes a time of day, `9:05` → `09:05`; a date and time stays as typed. Undefined for anything else. */
export function normalizeClock(text: string): string | undefined {
  const clock = /^(\d{1,2}):(\d{2})(?::(\d{2}))?$/.exec(text);
  if (clock) return isClock(clock[1], clock[2], clock[3]) ? text.padStart(clock[3] ? 8 : 5, '0') : undefined;
  const moment = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?(?:Z|[+-]\d{2}:\d{2})?$/i.exec(text);
  if (!moment || !isClock(moment[4], moment[5], moment[6])) return undefined;
  const [year, month, day] = [Number(moment[1]), Number(moment[2]), Number(moment[3])];
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  const lastDay = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 0;
  return day >= 1 && day <= lastDay ? text : undefined;
}

const isClock = (hour: string | undefined, minute: string | undefined, second = '0'): boolean =>
  Number(hour) <= 23 && Number(minute) <= 59 && Number(second) <= 59;
