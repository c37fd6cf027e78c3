import type { Fields } from '#libs/actions/record/fields.js';
import { momentIn } from '#libs/actions/record/times.js';
import { readingLines } from './reading-rows.js';
import { all, one, type Posted } from './field-view.js';

/**
 * The texts of a record out of what a form posted: a bare number gets the unit chosen beside it, a time told as
 * minutes ago becomes that time, ticked lots become portions. Blank stays blank: nothing is filled in for a reading.
 */
export function postedTexts(fields: Fields, posted: Posted, now: Date, zone: string): Record<string, string> {
  const texts: Record<string, string> = {};
  for (const name of Object.keys(fields)) {
    const typed = textOf(name, fields[name]?.list ?? false, posted, now, zone);
    if (typed !== '') texts[name] = typed;
  }
  return texts;
}

function textOf(name: string, list: boolean, posted: Posted, now: Date, zone: string): string {
  const amounts = Object.keys(posted).filter((key) => key.startsWith(`${name}~of~`));
  if (amounts.length > 0 || posted[`${name}~more`] !== undefined) return portionText(name, posted, amounts);
  const unit = one(posted[`${name}~unit`]);
  const typed = typedOrPicked(name, list, posted);
  if (typed !== '') return list ? lineByLine(typed, unit) : withUnit(typed, unit);
  const ago = one(posted[`${name}~ago`]);
  if (ago === '' || ago === 'other') return '';
  const minutes = ago === 'now' ? 0 : Number(ago);
  return Number.isInteger(minutes) && minutes >= 0 && minutes <= 24 * 60
    ? momentIn(zone, new Date(now.getTime() - minutes * 60_000))
    : ago;
}

/** What was typed goes before what was picked; of a list both count. Tiles stand in for a box that was left blank. */
function typedOrPicked(name: string, list: boolean, posted: Posted): string {
  const [typed, picked] = [all(posted[name]), all(posted[`${name}~pick`])];
  if (list) return [...picked, ...typed, ...readingLines(name, posted)].join('\n');
  const tiles = [one(posted[`${name}~kind`]), one(posted[`${name}~size`])].filter(Boolean);
  // Of a choice with a box for any other answer both come under one name, the box last.
  return (typed.at(-1) || picked[0]) ?? tiles.join(' ');
}

/** `186` beside °F is `186 F`; `85.5 C` beside °F stays as it was typed. */
export function withUnit(typed: string, unit: string): string {
  if (unit === '' || !/^[+\-−]?[\d.,\s]+$/u.test(typed)) return typed;
  const [last, rest] = [unit.split(' ').at(-1) ?? '', unit.split(' ').slice(0, -1).join(' ')];
  return rest === '' ? `${typed} ${last}` : `${typed} ${rest} ${last}`;
}

/** One a line; a line that begins with a bare number, `186@10:10`, gets the unit chosen beside the box. */
const lineByLine = (typed: string, unit: string): string =>
  typed
    .split(/[\r\n;]+/)
    .map((line) => line.trim())
    .filter(Boolean)
    .map((line) => line.replace(/^[\d.,]+(?=\s*(?:$|[@#]|jars?\b|trays?\b))/iu, (number) => withUnit(number, unit)))
    .join(';');

/** Lots that were ticked or given an amount, and lots typed by their code. */
function portionText(name: string, posted: Posted, amounts: readonly string[]): string {
  const unit = one(posted[`${name}~unit`]);
  const ticked = new Set(all(posted[name]));
  const known = amounts.flatMap((key) => {
    const code = key.slice(`${name}~of~`.length);
    const amount = one(posted[key]);
    if (!ticked.has(code) && amount === '') return [];
    return [amount === '' ? code : `${code}:${withUnit(amount, unit)}`];
  });
  const amountOfMore = one(posted[`${name}~more~amount`]);
  const more = one(posted[`${name}~more`])
    .split(/[;|\n]/)
    .map((part) => part.trim())
    .filter(Boolean);
  if (amountOfMore === '') return [...known, ...more].join(';');
  return [...known, `${more.join(' ')}:${withUnit(amountOfMore, unit)}`].join(';');
}
