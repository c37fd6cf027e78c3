/**
 * Addresses of earlier versions and where each is now. They are still on printed paper, in bookmarks and in entries
 * queued on a phone: reading is redirected (guard.ts), and a form sent there is handled as at its new address.
 */
const movedAddresses: readonly (readonly [old: RegExp, now: string])[] = [
  [/^\/side(?=\/|$)/, '/supporting-records'],
  [/^\/reckon(?=\/|$)/, '/calculators'],
  [/^\/you(?=\/|$)/, '/account'],
  [/^\/came-back(?=\/|$)/, '/returns'],
  [/^\/reports(?=\/)/, '/returns/reports'],
  [/^\/record(?=\/|$)/, '/history'],
  [/^\/entries(?=\/)/, '/records'],
  [/^\/sheets(?=\/|$)/, '/paper-sheets'],
  [/^\/sent\/([^/]+)\/looked$/, '/dispatches/$1/inspection'],
  [/^\/sent(?=\/|$)/, '/dispatches'],
  [/^\/(boils|packs)\/whole$/, '/$1/finished'],
  [/^\/recall\/practise(?=\/|$)/, '/recall/mock'],
  [/^\/lots\/([^/]+)\/use-up$/, '/lots/$1/disposal'],
  [/^\/lots\/([^/]+)\/mark\/(hold|release|recall)$/, '/lots/$1/$2'],
  [/^\/lots\/([^/]+)\/went\.csv$/, '/lots/$1/dispatches.csv'],
];

/** The current address, with its query; an address that never moved is returned unchanged. */
export function currentAddress(url: string): string {
  const end = url.indexOf('?');
  const path = (end < 0 ? url : url.slice(0, end)).replace(/(?<=.)\/$/, '');
  const found = movedAddresses.find(([old]) => old.test(path));
  return found ? path.replace(...found) + (end < 0 ? '' : url.slice(end)) : url;
}
