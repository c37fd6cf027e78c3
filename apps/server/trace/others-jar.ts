import { findJar } from '#libs/records/lots.js';
import { housesOf } from '#libs/records/houses.js';
import { printedJarCode, readJarCode } from '#libs/syrup/jar-codes.js';
import { prefixedLot } from '#libs/syrup/lot-codes.js';
import type { Visitor } from '../web/visitor.js';

/**
 * A jar of a sugarhouse whose book isn't the open one, for those who may read them all: whose it is, and the way there.
 * To everybody else it is a jar that is nowhere.
 */
export async function othersJar(who: Visitor, typed: string) {
  const code = who.readsAll ? readJarCode(typed) : undefined;
  const jar = code === undefined ? undefined : await findJar(who.book.read, code);
  const house =
    jar && jar.sugarhouse !== who.desk.sugarhouse
      ? (await housesOf(who.book.read)).find((each) => each.key === jar.sugarhouse)
      : undefined;
  if (!jar || !house) return undefined;
  const printed = printedJarCode(jar.code);
  const own = house.key === who.own.sugarhouse;
  return {
    title: `Jar ${printed}`,
    here: 'find',
    printed,
    lot: prefixedLot(house.prefix, jar.pack),
    whose: house,
    own,
  };
}
