import { atHouse, eventTimes, fullTime, litres, sensors, type EpcisEvent, type EpcisNames } from './event.js';
import type { Draw, SeasonBoil } from '../season/flow.js';
import type { HistoryLine, LotInput, SeasonLot } from '../season/lot.js';

/** Sap becomes syrup. For a boil whose gatherings were not recorded, the sap itself is the input. */
export function boilEvent(names: EpcisNames, boil: SeasonBoil): EpcisEvent {
  const inputs = [...boil.inputs, ...boil.carriedFrom];
  const sap = {
    epcClass: names.lot(`${boil.lot} sap`),
    ...(boil.sapMillilitres === null ? {} : { quantity: Math.round(boil.sapMillilitres) / 1000, uom: 'LTR' }),
  };
  return {
    type: 'TransformationEvent',
    eventID: names.event('boil', boil.lot),
    ...eventTimes(boil.finishedAt ?? boil.beganAt),
    bizStep: 'creating_class_instance',
    disposition: 'in_progress',
    ...atHouse(names),
    inputQuantityList: inputs.length === 0 ? [sap] : inputs.map((input) => inputOf(names, input)),
    outputQuantityList: [litres(names.lot(boil.lot), boil.syrupMillilitres)],
    ...sensors(names, boil.readings),
    'boilbook:by': boil.by,
  };
}

const inputOf = (names: EpcisNames, input: LotInput): object => litres(names.lot(input.code), input.millilitres);

/** Syrup drawn off a boil, with the readings taken then. */
export const drawEvent = (names: EpcisNames, draw: Draw): EpcisEvent => ({
  type: 'ObjectEvent',
  eventID: names.event('draw', draw.id),
  ...eventTimes(draw.drawnAt),
  action: 'OBSERVE',
  bizStep: 'other',
  ...atHouse(names),
  quantityList: [litres(names.lot(draw.boil), draw.millilitres)],
  ...sensors(names, draw.readings),
});

/**
 * Syrup becomes jars. Jars that a dispatch names are listed one by one, so that a sold jar leads to its lot; the others
 * are counted, and their codes appear in no document.
 */
export const packEvent = (names: EpcisNames, lot: SeasonLot, named: readonly string[]): EpcisEvent =>
  packingEvent(names, lot, named, names.event('pack', lot.lot));

function packingEvent(names: EpcisNames, lot: SeasonLot, named: readonly string[], eventID: string): EpcisEvent {
  const codes = lot.inputs.length > 0 ? [] : lot.boils;
  return {
    type: 'TransformationEvent',
    eventID,
    ...eventTimes(lot.packedAt),
    bizStep: 'packing',
    disposition: 'active',
    ...atHouse(names),
    inputQuantityList: [
      ...lot.inputs.map((input) => inputOf(names, input)),
      ...codes.map((code) => ({ epcClass: names.lot(code) })),
    ],
    ...(named.length > 0 ? { outputEPCList: named.map((code) => names.jar(lot.lot, code)) } : {}),
    outputQuantityList: [{ epcClass: names.lot(lot.lot), quantity: Math.max(0, lot.jarsMade - named.length) }],
    ...sensors(names, lot.readings),
    ilmd: { 'cbvmda:lotNumber': lot.lot, 'boilbook:container': lot.container },
    'boilbook:litres': lot.syrupLitres,
    ...(lot.brix === null ? {} : { 'boilbook:brixAt20C': lot.brix }),
    'boilbook:jars': lot.jarsMade,
    'boilbook:by': lot.by,
  };
}

/**
 * A correction: the former event, declared in error and pointing to the current one. Former values are known field by
 * field, so the rest of the event is as it is now.
 */
export function supersededEvents(names: EpcisNames, lot: SeasonLot, named: readonly string[]): readonly EpcisEvent[] {
  return lot.history
    .filter((line) => line.kind === 'corrected')
    .map((line) => ({
      ...packingEvent(names, lot, named, names.event('pack', `${lot.lot} before ${line.entry}`)),
      ...(line.field === 'jars' && Number.isInteger(Number(line.was)) ? { 'boilbook:jars': Number(line.was) } : {}),
      'boilbook:field': line.field ?? '',
      'boilbook:was': line.was ?? '',
      'boilbook:now': line.now ?? '',
      errorDeclaration: {
        declarationTime: fullTime(line.at),
        reason: 'incorrect_data',
        correctiveEventIDs: [names.event('pack', lot.lot)],
        ...(line.why === null ? {} : { 'boilbook:why': line.why }),
      },
    }));
}

type StatusKind = 'held' | 'released' | 'recalled';
const statusSteps: Readonly<Record<StatusKind, { bizStep: string; disposition: string }>> = {
  held: { bizStep: 'holding', disposition: 'non_sellable_other' },
  released: { bizStep: 'inspecting', disposition: 'conformant' },
  recalled: { bizStep: 'holding', disposition: 'recalled' },
};

/** Hold, release and recall events. */
export function statusEvents(names: EpcisNames, lot: SeasonLot): readonly EpcisEvent[] {
  return lot.history
    .filter((line): line is HistoryLine & { kind: StatusKind } => line.kind in statusSteps)
    .map((line) => ({
      type: 'ObjectEvent',
      eventID: names.event(line.kind, `${lot.lot} ${line.entry}`),
      ...eventTimes(line.at),
      action: 'OBSERVE',
      ...statusSteps[line.kind],
      ...atHouse(names),
      quantityList: [{ epcClass: names.lot(lot.lot), quantity: lot.jarsMade }],
      'boilbook:why': line.words,
      'boilbook:by': line.by,
    }));
}
