import { kindByName } from '#libs/actions/kinds/registry.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { momentIn } from '#libs/actions/record/times.js';
import { lotsBeginning, lotsOfDay, recordsNaming } from '#libs/store/queries/work-in-progress.js';
import { findJar, type KeptRecord, type Lot } from '#libs/store/queries/lots.js';
import { printedJarCode, readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { whereShown } from '../records/record-pages.js';
import { formGround } from '../../forms/form-view.js';
import type { Visitor } from '../../http/principal.js';
import { momentWords } from '../../text/times.js';

/**
 * One box for a jar code, a lot code, a date, a place or a name. A code that is one of the book's leads straight
 * to its page.
 */
export async function findPage(who: Visitor, typed: string) {
  const blank = { title: 'Find', here: 'find', typed, lots: [], records: [], nothing: false };
  if (typed === '') return blank;
  const { read } = who.book;
  const { sugarhouse } = who.desk;
  const code = codeIn(typed);
  const jarCode = readJarCode(code);
  const jar = jarCode === undefined ? undefined : await findJar(read, jarCode);
  // One of another sugarhouse has a page too, for those who may read it: it says whose it is.
  if (jar && (jar.sugarhouse === sugarhouse || who.readsAll)) return { straight: `/jars/${printedJarCode(jar.code)}` };
  const lot = await lookUpLot(read, sugarhouse, code);
  if (lot) return { straight: `/lots/${encodeURIComponent(lot.code)}` };
  const now = momentIn((await formGround(who)).manner.zone, who.desk.now);
  const lots = [...(await lotsBeginning(read, sugarhouse, typed)), ...(await lotsNamed(who, typed))];
  const records = await recordsNaming(read, sugarhouse, typed);
  return {
    ...blank,
    lots: lots.map((each) => ({
      code: each.code,
      state: each.state,
      kind: each.kind,
      when: momentWords(each.at, now),
      container: each.container ?? '',
    })),
    records: records.map((each) => shownRecord(each, now)),
    nothing: lots.length + records.length === 0,
  };
}

/** What a phone reads from a label: the link to the jar's page, one by the maker's article number, or words with both codes. */
export function codeIn(typed: string): string {
  const said = /\/(?:J|21)\/([^/?#]+)/i.exec(typed) ?? /^LOT .*? JAR (\S+)/.exec(typed) ?? /^LOT (\S+) /.exec(typed);
  return said?.[1] ?? typed;
}

async function lotsNamed(who: Visitor, typed: string): Promise<Lot[]> {
  return /^\d{4}-\d{2}(-\d{2})?$/.test(typed) ? lotsOfDay(who.book.read, who.desk.sugarhouse, typed) : [];
}

function shownRecord({ kind, id, lot, at, typed }: KeptRecord<unknown>, now: string) {
  const named =
    ['source', 'supplier', 'to', 'what', 'note', 'said', 'found'].map((name) => typed[name]).find(Boolean) ?? '';
  return {
    href: kind === 'house' ? '/house' : whereShown(kind, id, lot),
    noun: kind === 'dispatch' ? '' : (kindByName.get(kind)?.noun ?? kind),
    id,
    told: kind === 'dispatch' ? sentWords(typed) : named,
    when: momentWords(at, now),
  };
}

/** `6 jars of 26071A-1 to Millrace Green market`; jars told by their codes are counted. */
function sentWords({ jars = '', lot = '', to = '', kind = '' }: Readonly<Record<string, string>>): string {
  const many = /^\d+$/.test(jars) ? jars : String(jars.split(/[;|\s]+/).filter(Boolean).length);
  return `${many} ${many === '1' ? 'jar' : 'jars'} of ${lot} ${kind === 'returned' ? 'back from' : 'to'} ${to}`;
}
