import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { ReceiptBody } from '#libs/records/kinds/receipt.js';
import type { Lot } from '#libs/store/queries/lots.js';
import type { LotInProgress } from '#libs/store/queries/work-in-progress.js';
import { formatTemperature } from '#libs/syrup/quantities/format-quantities.js';
import { many } from '../../text/amounts.js';
import { boilSentence } from '../../text/lot-sentence.js';
import { dayText, elapsed } from '../../text/times.js';
import { isWithoutSap } from '../boils/without-sap.js';
import type { WorkInProgress } from '../returns/work-in-progress.js';

/** Sap that waits to be boiled. */
export const sapRow = (lot: LotInProgress, source: string | undefined, left: string, now: string): WorkInProgress => ({
  code: lot.code,
  href: `/lots/${encodeURIComponent(lot.code)}`,
  sentence: `${left}${source ? ` from ${source}` : ''} waiting, ${elapsed(lot.at, now)} old.`,
  next: { href: '/boils/begin', text: 'Start a boil' },
});

/** A pack whose seals are to be checked. */
export const sealsRow = (lot: Lot, now: string): WorkInProgress => ({
  code: lot.code,
  href: `/lots/${lot.code}`,
  sentence: `${many(lot.jars ?? 0, 'jar')} filled ${dayText(lot.at, now)}.`,
  next: { href: `/packs/${lot.code}/seals`, text: 'Check the seals' },
});

/** Bought syrup is packed, bought sap boiled: half sugar separates the two, on whichever scale it was read. */
const halfSugar = { Bx: 50, Be: 27, SG: 1.23 } as const;

/** Bought syrup to pack, or bought sap to boil. */
export function boughtWork(lot: LotInProgress, receipt: ReceiptBody | undefined, left: string): WorkInProgress {
  const density = receipt?.density;
  const isSyrup = density !== undefined && density.reading >= halfSugar[density.scale];
  const what = isSyrup ? 'syrup' : density ? 'sap' : 'sap or syrup (density not recorded)';
  return {
    code: lot.code,
    href: `/lots/${encodeURIComponent(lot.code)}`,
    sentence: `${left} of ${receipt?.supplier ?? ''}’s ${what} left.`,
    next: isSyrup
      ? { href: `/packs/begin?from=${encodeURIComponent(lot.code)}`, text: 'Pack it' }
      : { href: '/boils/begin', text: 'Start a boil' },
  };
}

/** Whether a boil has begun and neither its end nor its syrup is recorded. */
export const isBoiling = (boil: BoilBody | undefined): boolean =>
  boil !== undefined && !boil.finishedAt && !boil.syrupVolume;

/** A boil with its next step. */
export function boilWork(
  lot: LotInProgress,
  boil: BoilBody | undefined,
  left: { readonly text: string; readonly filteredAsDrawn: boolean; readonly stopped: string | undefined },
  now: string,
): WorkInProgress {
  const href = `/lots/${lot.code}`;
  const base = {
    code: lot.code,
    href,
    sentence: boil
      ? boilSentence(boil, { millilitres: lot.leftMillilitres, ...left, isStopped: left.stopped !== undefined }, now)
      : '',
    ...(left.stopped === undefined ? {} : { state: left.stopped }),
    ...(boil && isWithoutSap(boil)
      ? {
          missing: {
            text: 'No sap is recorded.',
            href: `/boils/${encodeURIComponent(lot.code)}/log/sap`,
            linkText: 'Add the sap',
          },
        }
      : {}),
  };
  if (!boil) return base;
  const step = (what: string, text: string) => ({ next: { href: `/boils/${lot.code}/log/${what}`, text: text } });
  if (isBoiling(boil))
    return { ...base, next: { href: `${href}#finish`, text: 'Enter a reading' }, since: boil.beganAt };
  if (!boil.syrupVolume) return { ...base, ...step('finish', 'Syrup made') };
  if (boil.restedFrom && !boil.restedUntil)
    return { ...base, since: boil.restedFrom, next: { href: `/packs/begin?from=${lot.code}`, text: 'Pack it' } };
  if (!left.filteredAsDrawn && !boil.filterTemp && boil.filterMedium === '')
    return { ...base, ...step('filter', 'Filter') };
  if (!boil.restedFrom) return { ...base, ...step('rest', 'Start rest') };
  return { ...base, next: { href: `/packs/begin?from=${lot.code}`, text: 'Pack it' } };
}

/** A pack that is being filled, with its last reading. */
export function packWork(pack: { readonly id: string; readonly body: PackBody }, isHeld: boolean): WorkInProgress {
  const last = pack.body.fillTemps.at(-1);
  return {
    code: pack.id,
    href: `/lots/${pack.id}`,
    sentence: last
      ? `${many(pack.body.fillTemps.length, 'jar')} read, the last ${formatTemperature(last.temperature)}.`
      : 'Nothing read in a jar yet.',
    next: { href: `/lots/${pack.id}#fill`, text: last ? 'Next jar' : 'First jar' },
    ...(isHeld ? { state: 'held' } : {}),
  };
}
