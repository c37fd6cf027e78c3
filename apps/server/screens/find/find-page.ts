import { kindByName } from '#libs/actions/kinds/registry.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { momentIn } from '#libs/actions/record/times.js';
import { lotsBeginning, lotsOfDay, recordsNaming } from '#libs/store/queries/work-in-progress.js';
import { findJar, type StoredRecord, type Lot } from '#libs/store/queries/lots.js';
import { printedJarCode, readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { whereShown } from '../records/record-pages.js';
import { formContext } from '../../forms/form-view.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { momentText } from '../../text/times.js';

/**
 * One box for a jar code, a lot code, a date, a place or a name. A code that is one of the book's leads straight
 * to its page.
 */
export async function findPage(principal: Principal, typed: string) {
  const blank = { title: 'Find', here: 'find', typed, lots: [], records: [], nothing: false };
  if (typed === '') return blank;
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const code = codeIn(typed);
  const jarCode = readJarCode(code);
  const jar = jarCode === undefined ? undefined : await findJar(read, jarCode);
  // One of another sugarhouse has a page too, for those who may read it: it says whose it is.
  if (jar && (jar.sugarhouse === sugarhouse || principal.readsAll))
    return { straight: `/jars/${printedJarCode(jar.code)}` };
  const lot = await lookUpLot({ sql: read, sugarhouse }, code);
  if (lot) return { straight: `/lots/${encodeURIComponent(lot.code)}` };
  const now = momentIn((await formContext(principal)).parseOptions.zone, principal.writeContext.now);
  const lots = [...(await lotsBeginning({ sql: read, sugarhouse }, typed)), ...(await lotsNamed(principal, typed))];
  const records = await recordsNaming({ sql: read, sugarhouse }, typed);
  return {
    ...blank,
    lots: lots.map((each) => ({
      code: each.code,
      state: each.state,
      kind: each.kind,
      when: momentText(each.at, now),
      container: each.container ?? '',
    })),
    records: records.map((each) => shownRecord(each, now)),
    nothing: lots.length + records.length === 0,
  };
}

/** What a phone reads from a label: the link to the jar's page, one by the maker's article number, or words with both codes. */
export function codeIn(typed: string): string {
  const formatted =
    /\/(?:J|21)\/([^/?#]+)/i.exec(typed) ?? /^LOT .*? JAR (\S+)/.exec(typed) ?? /^LOT (\S+) /.exec(typed);
  return formatted?.[1] ?? typed;
}

async function lotsNamed(principal: Principal, typed: string): Promise<Lot[]> {
  return /^\d{4}-\d{2}(-\d{2})?$/.test(typed) ? lotsOfDay(readerOf(principal), typed) : [];
}

function shownRecord({ kind, id, lot, at, typed }: StoredRecord, now: string) {
  const named =
    ['source', 'supplier', 'to', 'what', 'note', 'said', 'found'].map((name) => typed[name]).find(Boolean) ?? '';
  return {
    href: kind === 'house' ? '/house' : whereShown(kind, id, lot),
    noun: kind === 'dispatch' ? '' : (kindByName.get(kind)?.noun ?? kind),
    id,
    told: kind === 'dispatch' ? sentText(typed) : named,
    when: momentText(at, now),
  };
}

/** `6 jars of 26071A-1 to Millrace Green market`; jars told by their codes are counted. */
function sentText({ jars = '', lot = '', to = '', kind = '' }: Readonly<Record<string, string>>): string {
  const many = /^\d+$/.test(jars) ? jars : String(jars.split(/[;|\s]+/).filter(Boolean).length);
  return `${many} ${many === '1' ? 'jar' : 'jars'} of ${lot} ${kind === 'returned' ? 'back from' : 'to'} ${to}`;
}
