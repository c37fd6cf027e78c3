import { kindByName } from '#libs/actions/kinds/registry.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { momentIn } from '#libs/actions/record/times.js';
import type { DispatchBody } from '#libs/records/kinds/dispatch.js';
import { jarsBeginning, lotsHolding, recordsHolding } from '#libs/store/queries/find.js';
import { findJar, type StoredRecord } from '#libs/store/queries/lots.js';
import { printedJarCode, readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { recordAddress } from '../records/record-pages.js';
import { formContext } from '../../forms/form-view.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { momentText } from '../../text/times.js';
import { parseDays } from './parse-days.js';
import { type SearchQuery, lotReasons, recordReasons } from './search-reasons.js';

/**
 * One box for a jar code, a lot code or a part of one, days in plain words, a place, a name or words of a note. A
 * complete code redirects to its page; every other hit shows why it was found.
 */
export async function findPage(principal: Principal, typed: string) {
  const blank = { title: 'Find', here: 'find', typed, lots: [], jars: [], records: [], nothingFound: false };
  if (typed === '') return blank;
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const code = codeInScan(typed);
  const jarCode = readJarCode(code);
  const jar = jarCode === undefined ? undefined : await findJar(read, jarCode);
  // A code of another sugarhouse has a page too, for people who may read it; the page names the house.
  if (jar && (jar.sugarhouse === sugarhouse || principal.readsAll))
    return { redirect: `/jars/${printedJarCode(jar.code)}` };
  const lot =
    (await lookUpLot({ sql: read, sugarhouse }, code)) ??
    (await lookUpLot({ sql: read, sugarhouse }, code.replace(packWithoutHyphen, '$1-$2')));
  if (lot) return { redirect: `/lots/${encodeURIComponent(lot.code)}` };
  const now = momentIn((await formContext(principal)).parseOptions.zone, principal.writeContext.now);
  const reader = readerOf(principal);
  const days = parseDays(typed, now.slice(0, 10));
  const terms = (days?.rest ?? typed).split(/\s+/).filter(Boolean);
  const text = terms.join(' ');
  const lots = terms.length > 1 ? [] : await lotsHolding(reader, text, days);
  const jars = days || terms.length > 1 || text.length < 3 ? [] : await jarsBeginning(reader, normalisedJarCode(text));
  const records = await recordsHolding(reader, terms, days);
  const found = new Set(lots.map((each) => each.code));
  const search = { text: terms, days: days?.text };
  return {
    ...blank,
    lots: lots.map((each) => ({
      code: each.code,
      state: each.state,
      kind: each.kind,
      when: momentText(each.at, now),
      container: each.container ?? '',
      matches: lotReasons(each.code, search),
    })),
    jars: jars.map((each) => ({ ...each, code: printedJarCode(each.code) })),
    // A lot is listed once, above.
    records: records.filter((each) => !found.has(each.id)).map((each) => recordHit(each, now, search)),
    nothingFound: lots.length + records.length + jars.length === 0,
  };
}

/** `26329a1` typed for 26329A-1. */
const packWithoutHyphen = /^(\d{5}[a-z]+)\s?(\d+)$/i;

/** A code as it is stored: capitals, no dashes, letters that look like digits replaced by them. */
const normalisedJarCode = (text: string): string =>
  text
    .toUpperCase()
    .replace(/[\s\p{Pd}−_]/gu, '')
    .replace(/[IL]/g, '1')
    .replace(/O/g, '0');

/**
 * The content of a scanned label: the link to the jar's page, one by the maker's article number, or text with both
 * codes.
 */
export function codeInScan(typed: string): string {
  const formatted =
    /\/(?:J|21)\/([^/?#]+)/i.exec(typed) ?? /^LOT .*? JAR (\S+)/.exec(typed) ?? /^LOT (\S+) /.exec(typed);
  return formatted?.[1] ?? typed;
}

function recordHit(record: StoredRecord, now: string, search: SearchQuery) {
  const { kind, id, lot, at, typed } = record;
  const details =
    ['source', 'supplier', 'to', 'what', 'note', 'said', 'found'].map((name) => typed[name]).find(Boolean) ?? '';
  return {
    href: kind === 'house' ? '/house' : recordAddress(kind, id, lot),
    noun: kind === 'dispatch' ? '' : (kindByName.get(kind)?.noun ?? kind),
    id,
    details: record.kind === 'dispatch' ? sentText(record.body) : details,
    when: momentText(at, now),
    matches: recordReasons({ kind, id, typed }, search),
  };
}

/** `6 jars of 26071A-1 to Millrace Green market` */
const sentText = ({ jars, lot, to, kind }: DispatchBody): string =>
  `${many(jars, 'jar')} of ${lot} ${kind === 'returned' ? 'back from' : 'to'} ${to}`;
