import type { RecordKind } from '#libs/records/record-types.js';
import { recordsOf, type StoredRecord } from '#libs/store/queries/lots.js';
import { packsWithCheckPutOff } from '#libs/store/queries/work-in-progress.js';
import { offsetCelsius } from '#libs/syrup/instruments/instrument-checks.js';
import { findMatchingId, sameId } from '#libs/syrup/instruments/thermometers.js';
import { mayWrite } from '../../http/may-write.js';
import { type Principal, readerOf, thermometersFor } from '../../http/principal.js';
import { capital } from '../../text/capital.js';
import { dayText } from '../../text/times.js';
import type { WorkInProgress } from '../returns/work-in-progress.js';

const dayMs = 86_400_000;
/** A licence is shown when it expires within this many days. Common practice, no source. */
const licenceDays = 60;
/** A water test and a mock recall are due after a year. Common practice, no source. */
const yearDays = 365;
/** So many packs whose check was put off are named: one check answers for all of a thermometer. */
const maxPostponements = 5;

/** Checks that are due: instruments not checked this season, a yearly test or exercise, a licence that expires. */
export async function reminders(principal: Principal, now: string, packsThisYear: boolean): Promise<WorkInProgress[]> {
  const year = Number(now.slice(0, 4));
  const due = await Promise.all([
    packsThisYear ? postponedChecks(principal, year, now) : [],
    instrumentsDue(principal, year),
    packsThisYear ? yearlyDue(principal, now, 'practice-recall') : [],
    yearlyDue(principal, now, 'water-test'),
    licencesDue(principal, now),
  ]);
  return due.flat();
}

/**
 * Packs before which the check of the thermometer was put off, until one that read their jars is checked: where a
 * reading names none, any of the house.
 */
async function postponedChecks(principal: Principal, year: number, now: string): Promise<WorkInProgress[]> {
  const packs = await packsWithCheckPutOff(readerOf(principal), year, maxPostponements);
  if (packs.length === 0) return [];
  const thermometers = await thermometersFor(principal, year);
  return packs.flatMap(({ id, body }) => {
    const named = body.fillTemps.flatMap(({ thermometer }) => thermometer ?? []);
    const ids = thermometers.map((each) => each.id);
    const used = thermometers.filter((each) => named.some((name) => sameId(findMatchingId(name, ids), each.id)));
    const toCheck = used.length > 0 ? used : thermometers;
    const since = body.packedAt.slice(0, 10);
    if (
      toCheck.some(({ checks }) =>
        checks.some((each) => (each.day ?? '') >= since && offsetCelsius(each) !== undefined),
      )
    )
      return [];
    const href = `/supporting-records/checks/new?how=ice${toCheck.length === 1 ? `&instrument=${encodeURIComponent(toCheck[0]?.id ?? '')}` : ''}`;
    return [
      {
        code: id,
        href: `/lots/${encodeURIComponent(id)}`,
        sentence: `Filled ${dayText(body.packedAt, now)}, and the check of the thermometer was put off. Check it before jars go out.`,
        ...(mayWrite(principal, 'check') ? { next: { href, text: 'Check it' } } : {}),
      },
    ];
  });
}

/**
 * When no thermometer at all was checked there is a separate line; these are the ones beside a checked one, and
 * hydrometers.
 */
async function instrumentsDue(principal: Principal, year: number): Promise<WorkInProgress[]> {
  const reader = readerOf(principal);
  const thermometers = await thermometersFor(principal, year);
  const someChecked = thermometers.some((each) => each.checkedThisSeason);
  const checks = await recordsOf(reader, 'check', year);
  const others = (await recordsOf(reader, 'instrument')).filter(
    ({ id, body }) =>
      (body['what'] === 'hydrometer' || body['what'] === 'refractometer') &&
      !checks.some((check) => sameId(check.body.instrument, id)),
  );
  const due: (readonly [id: string, what: string])[] = [
    ...(someChecked
      ? thermometers.filter((each) => !each.checkedThisSeason).map(({ id }) => [id, 'thermometer'] as const)
      : []),
    ...others.map(({ id, body }) => [id, String(body['what'])] as const),
  ];
  return due.map(([id, what]) => ({
    code: id,
    href: checkForm(id, what),
    sentence: `This ${what} has not been checked this season.`,
    ...(mayWrite(principal, 'check') ? { next: { href: checkForm(id, what), text: 'Check it' } } : {}),
  }));
}

/** The form for a check; only a thermometer is checked in ice or boiling water. */
const checkForm = (id: string, what: string): string =>
  `/supporting-records/checks/new?${what === 'thermometer' ? '' : 'how=reference&'}instrument=${encodeURIComponent(id)}`;

const yearlyReminders = {
  'practice-recall': {
    code: 'Mock recall',
    href: '/recall/mock',
    text: 'Mock recall',
    once: 'No mock recall is on record. Do one each season.',
  },
  'water-test': { code: 'Water test', href: '/supporting-records/water-tests/new', text: 'Record a test', once: '' },
} as const;

/** A test that was never recorded is not due: not every house needs one. */
async function yearlyDue(
  principal: Principal,
  now: string,
  kind: keyof typeof yearlyReminders,
): Promise<WorkInProgress[]> {
  const { code, href, text, once } = yearlyReminders[kind];
  const last = (await recordsOf(readerOf(principal), kind)).at(-1) as StoredRecord | undefined;
  const age = last === undefined ? Infinity : (Date.parse(now) - Date.parse(last.at)) / dayMs;
  if (age < yearDays || (last === undefined && once === '')) return [];
  const sentence = last === undefined ? once : `The last one was on ${dayText(last.at, now)}: more than a year ago.`;
  return [
    {
      code,
      href,
      sentence,
      ...(mayWrite(principal, kind satisfies RecordKind) ? { next: { href, text } } : {}),
    },
  ];
}

async function licencesDue(principal: Principal, now: string): Promise<WorkInProgress[]> {
  const licences = await recordsOf(readerOf(principal), 'licence');
  return licences.flatMap(({ id, body }) => {
    const until = /\d{4}-\d\d-\d\d/.exec(textOf(body['until']))?.[0];
    const daysLeft = until === undefined ? Infinity : (Date.parse(until) - Date.parse(now.slice(0, 10))) / dayMs;
    if (until === undefined || daysLeft > licenceDays) return [];
    const href = `/records/licence/${encodeURIComponent(id)}`;
    const ends = daysLeft < 0 ? `ran out on ${dayText(until)}` : `runs out on ${dayText(until)}`;
    return [{ code: id, href, sentence: `${capital(textOf(body['what']) || 'licence')} ${ends}.` }];
  });
}

const textOf = (value: unknown): string => (typeof value === 'string' ? value : '');
