import { findJar } from '#libs/store/queries/lots.js';
import { housesOf } from '#libs/store/household/houses.js';
import { printedJarCode, readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { prefixedLot } from '#libs/syrup/codes/lot-codes.js';
import type { Principal } from '../../http/principal.js';

/**
 * A jar of a sugarhouse other than the open one, for people who may read them all: the house and the link to it. For
 * everyone else the jar is unknown.
 */
export async function jarOfOtherHouse(principal: Principal, typed: string) {
  const code = principal.readsAll ? readJarCode(typed) : undefined;
  const jar = code === undefined ? undefined : await findJar(principal.book.read, code);
  const house =
    jar && jar.sugarhouse !== principal.writeContext.sugarhouse
      ? (await housesOf(principal.book.read)).find((each) => each.key === jar.sugarhouse)
      : undefined;
  if (!jar || !house) return undefined;
  const printed = printedJarCode(jar.code);
  const own = house.key === principal.own.sugarhouse;
  return {
    title: `Jar ${printed}`,
    here: 'find',
    printed,
    lot: prefixedLot(house.prefix, jar.pack),
    whose: house,
    own,
  };
}
