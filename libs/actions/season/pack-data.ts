import { textIn } from '#libs/records/kinds/supporting-record.js';
import type { SyrupSource } from '#libs/reports/season/lot.js';
import {
  flowsIntoEach,
  historyOfEach,
  lotsNamed,
  lotsUpstreamOfEach,
  recordsAboutEach,
  recordsNamed,
} from '#libs/store/connection/batch-queries.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { type Lot, recordsOf } from '#libs/store/queries/lots.js';
import { packAccounts } from '#libs/store/queries/pack-accounts.js';
import { ofKind } from '#libs/store/queries/trace.js';
import { isBlank } from '#libs/syrup/free-text/short-answers.js';

/** What the summary needs of some packs, each kind of row read once for all of them. */
export type PackData = Awaited<ReturnType<typeof loadPackData>>;

/** Reads the records, movements and history of these packs, and the boils and receipts that they came from. */
export async function loadPackData(reader: SugarhouseReader, packs: readonly string[], withoutLog: boolean) {
  const upstream = await lotsUpstreamOfEach(reader, packs);
  const codesAbove = (kind: 'boil' | 'receipt'): string[] => [
    ...new Set([...upstream.values()].flatMap((lots) => ofKind(lots, kind)).map((lot) => lot.code)),
  ];
  return {
    accounts: await packAccounts(reader, packs),
    record: await recordsNamed(reader, ['pack'], packs),
    upstream,
    actions: await recordsAboutEach(reader, packs, 'action'),
    verifications: await recordsAboutEach(reader, packs, 'verification'),
    counts: await recordsAboutEach(reader, packs, 'count'),
    labels: await recordsAboutEach(reader, packs, 'labels'),
    histories: await historyOfEach(reader, withoutLog ? [] : packs),
    poured: await loadSyrupSources(reader, packs),
    boil: await recordsNamed(reader, ['boil'], codesAbove('boil')),
    receipt: await recordsNamed(reader, ['receipt'], codesAbove('receipt')),
    lines: await recordsAboutEach(reader, codesAbove('boil'), 'line'),
    bottles: new Map(
      (await recordsOf(reader, 'supply'))
        .map(({ body }) => [textIn(body, 'what').trim().toLowerCase(), textIn(body, 'allergens')] as const)
        .filter(([, allergens]) => !isBlank(allergens)),
    ),
  };
}

/**
 * The boils and receipts whose syrup was poured into each pack, through packs poured back. What an earlier boil left in
 * the pans is upstream too, but no jar was filled from it.
 */
async function loadSyrupSources(
  reader: SugarhouseReader,
  packs: readonly string[],
): Promise<(pack: string) => SyrupSource[]> {
  const into = new Map<string, string[]>();
  const known = new Map<string, Lot>();
  for (let pending = [...packs]; pending.length > 0;) {
    const flows = await flowsIntoEach(reader, pending);
    for (const [to, those] of flows)
      into.set(
        to,
        those.filter((flow) => flow.kind === 'syrup').map((flow) => flow.from),
      );
    const found = await lotsNamed(
      reader,
      [...flows.values()].flat().map((flow) => flow.from),
    );
    for (const [code, lot] of found) known.set(code, lot);
    pending = [...found.values()].filter((lot) => lot.kind === 'pack' && !into.has(lot.code)).map((lot) => lot.code);
  }
  return (pack) => {
    const seen = new Set([pack]);
    for (const each of seen) for (const from of into.get(each) ?? []) seen.add(from);
    return [...seen]
      .flatMap((code) => known.get(code) ?? [])
      .sort((a, b) => (a.atUtc < b.atUtc ? -1 : a.atUtc > b.atUtc ? 1 : a.code < b.code ? -1 : 1))
      .flatMap(({ code, kind, at }) => (kind === 'boil' || kind === 'receipt' ? [{ code, kind, at }] : []));
  };
}
