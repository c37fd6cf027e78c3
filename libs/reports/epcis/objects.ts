import { atHouse, eventTimes, litres, readAtHouse, sensors, type EpcisEvent, type EpcisNames } from './event.js';
import type { CountRecord, Dispatch, DispatchKind, Gathering, Receipt } from '../season/flow.js';

/** The event in which gathered sap becomes a lot. */
export const gatheringEvent = (names: EpcisNames, one: Gathering): EpcisEvent => ({
  type: 'ObjectEvent',
  eventID: names.event('gathering', one.id),
  ...eventTimes(one.gatheredAt),
  action: 'ADD',
  bizStep: 'creating_class_instance',
  disposition: 'active',
  readPoint: { id: names.place(one.source) },
  bizLocation: { id: names.house },
  quantityList: [litres(names.lot(one.id), one.millilitres)],
  ...sensors(names, one.readings),
});

/** Sap or syrup from somebody else, one step back. */
export const receiptEvent = (names: EpcisNames, one: Receipt): EpcisEvent => ({
  type: 'ObjectEvent',
  eventID: names.event('receipt', one.id),
  ...eventTimes(one.receivedAt),
  action: 'OBSERVE',
  bizStep: 'receiving',
  disposition: 'in_progress',
  ...atHouse(names),
  quantityList: [litres(names.lot(one.id), one.millilitres)],
  sourceList: [{ type: 'possessing_party', source: names.place(one.supplier) }],
  'boilbook:supplier': one.supplier,
  ...(one.theirLot === null ? {} : { 'boilbook:theirLot': one.theirLot }),
});

/** Jars leave, or are destroyed. A dispatch by count names no jar. */
export function dispatchEvent(names: EpcisNames, one: Dispatch): EpcisEvent {
  const named = one.jarCodes.length > 0;
  return {
    type: 'ObjectEvent',
    eventID: names.event('dispatch', one.id),
    ...eventTimes(one.sentAt),
    ...dispatchSteps[one.kind],
    ...(stays.includes(one.kind) ? atHouse(names) : readAtHouse(names)),
    ...(named
      ? { epcList: one.jarCodes.map((code) => names.jar(one.lot, code)) }
      : { quantityList: [{ epcClass: names.lot(one.lot), quantity: one.jars }] }),
    ...(one.kind === 'returned'
      ? { sourceList: [{ type: 'possessing_party', source: names.place(one.to) }] }
      : leaves.includes(one.kind)
        ? { destinationList: [{ type: 'possessing_party', destination: names.place(one.to) }] }
        : {}),
    'boilbook:to': one.to,
    'boilbook:lot': one.lot,
  };
}

const leaves: readonly DispatchKind[] = ['sale', 'gift', 'sample'];
/**
 * Only these have a bizLocation, which EPCIS 2.0 defines (cited from memory) as the place where the things are after the
 * event: jars that were sold, given or handed out have left, and where their new holder keeps them isn't recorded; jars
 * that were broken or destroyed are nowhere.
 */
const stays: readonly DispatchKind[] = ['kept', 'retained', 'returned'];

const dispatchSteps: Readonly<Record<DispatchKind, { action: string; bizStep: string; disposition: string }>> = {
  sale: { action: 'OBSERVE', bizStep: 'retail_selling', disposition: 'retail_sold' },
  gift: { action: 'OBSERVE', bizStep: 'shipping', disposition: 'in_transit' },
  sample: { action: 'OBSERVE', bizStep: 'sampling', disposition: 'dispensed' },
  kept: { action: 'OBSERVE', bizStep: 'storing', disposition: 'non_sellable_other' },
  retained: { action: 'OBSERVE', bizStep: 'storing', disposition: 'reserved' },
  broken: { action: 'DELETE', bizStep: 'destroying', disposition: 'damaged' },
  destroyed: { action: 'DELETE', bizStep: 'destroying', disposition: 'destroyed' },
  returned: { action: 'OBSERVE', bizStep: 'receiving', disposition: 'returned' },
};

/** A count of jars as an EPCIS object event. */
export const countEvent = (names: EpcisNames, one: CountRecord): EpcisEvent => ({
  type: 'ObjectEvent',
  eventID: names.event('count', one.id),
  ...eventTimes(one.countedAt),
  action: 'OBSERVE',
  bizStep: 'cycle_counting',
  ...atHouse(names),
  quantityList: [{ epcClass: names.lot(one.lot), quantity: one.jars }],
});
