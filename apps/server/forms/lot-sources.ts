import type { LotKind } from '#libs/records/record-types.js';
import { lotsListed } from '#libs/store/queries/lists.js';
import { lotsInProgress, lotsWithSomeLeft, type LotInProgress } from '#libs/store/queries/work-in-progress.js';
import { formatDensity, formatTemperature } from '#libs/syrup/quantities/format-quantities.js';
import type { GatheringBody } from '#libs/records/kinds/gathering.js';
import type { ReceiptBody } from '#libs/records/kinds/receipt.js';
import { cachedBodies } from '../http/cached-bodies.js';
import { type Principal, readerOf } from '../http/principal.js';
import { volumeText } from '#libs/format/format-house-volume.js';
import { dayText } from '../text/times.js';
import type { Source } from './field-view.js';
import type { FormContext } from './form-view.js';

/** Sap and bought sap with something left, and the pans of earlier boils. */
export async function boilSources(principal: Principal, { measures }: FormContext): Promise<Record<string, Source[]>> {
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const leftText = (lot: LotInProgress): string =>
    `${volumeText(lot.leftMillilitres ?? 0, measures.volumes, measures.canada)} left, ${dayText(lot.at)}`;
  const since = principal.writeContext.now.getUTCFullYear() - 1;
  const gathered = await lotsWithSomeLeft({ sql: read, sugarhouse }, 'gathering', since);
  const bought = await lotsWithSomeLeft({ sql: read, sugarhouse }, 'receipt', since);
  const bodies = await cachedBodies(principal, 'gathering', gathered);
  const receipts = await cachedBodies(principal, 'receipt', bought);
  const sap = [
    ...gathered.map((lot) => {
      const body = bodies.get(lot.code);
      return { code: lot.code, text: [...from(body?.source), leftText(lot), ...seenOf(body)].join(', ') };
    }),
    ...bought.map((lot) => ({
      code: lot.code,
      text: [...boughtText(receipts.get(lot.code)), leftText(lot)].join(', '),
    })),
  ];
  const earlier = (await lotsInProgress({ sql: read, sugarhouse }, 'boil', 2)).map((lot) => ({
    code: lot.code,
    text: dayText(lot.at),
  }));
  return { gatherings: sap, carriedFrom: earlier };
}

/** Where sap or syrup came from: people know it by that, not by its code. */
const from = (source: string | undefined): string[] => (source ? [source] : []);

/** Of whom it was bought, and its density: sap and syrup of one seller differ by nothing else. */
const boughtText = (receipt: ReceiptBody | undefined): string[] =>
  receipt ? [receipt.supplier, receipt.density ? formatDensity(receipt.density) : 'density not recorded'] : [];

/** How the sap looked and smelled, and its temperature, as recorded. */
const seenOf = (body: GatheringBody | undefined): string[] => [
  ...(body?.condition ? [body.condition] : []),
  ...(body?.temperature ? [formatTemperature(body.temperature)] : []),
];

/** Codes of the newest lots with nothing left: a record that is entered late may still name them. */
export async function emptyLotCodes(
  principal: Principal,
  [kind, other]: readonly [LotKind, LotKind],
  left: readonly Source[],
): Promise<string[]> {
  const part = { from: 1, most: 30 };
  const { lots } = await lotsListed(readerOf(principal), kind, part, other);
  return lots.map(({ code }) => code).filter((code) => !left.some((each) => each.code === code));
}

/** Boils, bought syrup and packs with something left to draw from. */
export async function packSources(principal: Principal, { measures }: FormContext): Promise<Record<string, Source[]>> {
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const since = principal.writeContext.now.getUTCFullYear() - 1;
  const bought = await lotsWithSomeLeft({ sql: read, sugarhouse }, 'receipt', since);
  const receipts = await cachedBodies(principal, 'receipt', bought);
  const left = [...(await lotsWithSomeLeft({ sql: read, sugarhouse }, 'boil', since)), ...bought];
  // A boil whose syrup wasn't measured yet has nothing to draw from.
  const fromLots = left
    .filter((lot) => lot.leftMillilitres !== undefined)
    .map((lot) => ({
      code: lot.code,
      text: [
        ...boughtText(receipts.get(lot.code)),
        `${volumeText(lot.leftMillilitres ?? 0, measures.volumes, measures.canada)} left, ${dayText(lot.at)}`,
      ].join(', '),
    }));
  return { fromLots };
}
