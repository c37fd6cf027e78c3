import { recordsListed } from '#libs/store/queries/lists.js';
import type { RecordKind } from '#libs/records/record-types.js';
import type { SubmittedForm } from './form-view.js';
import { type Principal, readerOf } from '../http/principal.js';
import { firstText, type Offer, type Posted } from './field-view.js';

export interface Remembered {
  /** By field, newest first, without duplicates. */
  readonly offers: Readonly<Record<string, readonly Offer[]>>;
  /** The newest value of each field: what "same as last time" fills in. */
  readonly last: Readonly<Record<string, string>>;
}

type FieldSources = readonly (readonly [kind: RecordKind, field: string])[];

/**
 * The boxes that offer earlier values, and the fields these come from. Only names of places, people and things: never a
 * reading, and nothing that was seen, tasted or done on the day (clarity, flavour, seals, mould, rinsing, preparation
 * of the containers), since a choice made by habit would record something nobody looked at.
 */
const rememberedFields = {
  source: [['gathering', 'source']],
  supplier: [['receipt', 'supplier']],
  to: [['dispatch', 'to']],
  container: [['pack', 'container']],
  filterMedium: [
    ['boil', 'filterMedium'],
    ['draw', 'filterMedium'],
  ],
  vessel: [['draw', 'vessel']],
  // By name only: the allergens on its label are asked each time.
  defoamer: [['boil', 'defoamer']],
  pan: [['line', 'pan']],
  instrument: [
    ['check', 'instrument'],
    ['instrument', 'id'],
  ],
  instruments: [
    ['pack', 'instruments'],
    ['line', 'instruments'],
    ['boil', 'instruments'],
    ['draw', 'instruments'],
    ['instrument', 'id'],
  ],
} as const satisfies Readonly<Record<string, FieldSources>>;
export type RememberedField = keyof typeof rememberedFields;

/**
 * Boxes of the supporting records that offer earlier values, by kind: the same things are cleaned, bought or tested
 * each time.
 */
const supportingRecordFields: Partial<Readonly<Record<RecordKind, readonly string[]>>> = {
  cleaning: ['what', 'with'],
  filter: ['what'],
  supply: ['what', 'supplier'],
  training: ['who', 'what'],
  'water-test': ['source', 'laboratory'],
  'lead-test': ['equipment', 'laboratory'],
};

const maxRecordsRead = 60;
const maxOffers = 6;

async function readRemembered(
  principal: Principal,
  boxes: readonly (readonly [name: string, memory: FieldSources])[],
): Promise<Remembered> {
  const offers: Record<string, readonly Offer[]> = {};
  for (const [name, sources] of boxes) offers[name] = await readOffers(principal, name, sources);
  const last = Object.fromEntries(
    Object.entries(offers).flatMap(([name, [newest]]) => (newest ? [[name, newest.value]] : [])),
  );
  return { offers, last };
}

async function readOffers(principal: Principal, name: string, sources: FieldSources): Promise<Offer[]> {
  const found = new Map<string, Offer>();
  for (const [kind, field] of sources)
    for (const typed of await recentTyped(principal, kind)) {
      if (name === 'to' && !isBuyer(typed)) continue;
      for (const value of valuesIn(name, typed[field] ?? '')) {
        const offer = { value, text: [value, ...contactTexts(name, typed)].join(', ') };
        if (value !== '' && !found.has(value.toLowerCase())) found.set(value.toLowerCase(), offer);
      }
    }
  return [...found.values()].slice(0, maxOffers);
}

async function recentTyped(principal: Principal, kind: RecordKind): Promise<Readonly<Record<string, string>>[]> {
  const part = { from: 1, most: maxRecordsRead };
  const { records } = await recordsListed(readerOf(principal), kind, part);
  return records.map((each) => ({ id: each.id, ...each.typed }));
}

const isBuyer = (typed: Readonly<Record<string, string>>): boolean =>
  ['', 'sale', 'gift', 'sample'].includes(typed['kind'] ?? '');

const valuesIn = (name: string, text: string): string[] =>
  name === 'instruments' ? text.split(/[;|,\n]/).map((each) => each.trim()) : [text.trim()];

/** A buyer or supplier is offered with their contact details, which are recorded with the name. */
const contactTexts = (name: string, typed: Readonly<Record<string, string>>): string[] =>
  name === 'to' || name === 'supplier'
    ? [typed['contact'] ?? '', typed['telephone'] ?? ''].map((each) => each.trim()).filter(Boolean)
    : [];

/**
 * What a form needs for its remembered boxes: the offers, and what was posted, or picked last time if that was
 * requested.
 */
export const withRemembered = (principal: Principal, names: readonly RememberedField[], sent: SubmittedForm) =>
  withOffers(
    principal,
    names.map((name) => [name, rememberedFields[name]]),
    sent,
  );

/** The same for a supporting record, whose offers come from records of its own kind. */
export const withRememberedSupporting = (principal: Principal, kind: RecordKind, sent: SubmittedForm) =>
  kind === 'check'
    ? withRemembered(principal, ['instrument'], sent)
    : withOffers(
        principal,
        (supportingRecordFields[kind] ?? []).map((name) => [name, [[kind, name]]]),
        sent,
      );

async function withOffers(
  principal: Principal,
  boxes: readonly (readonly [name: string, memory: FieldSources])[],
  sent: SubmittedForm,
) {
  const { offers, last } = await readRemembered(principal, boxes);
  const canRepeat = Object.keys(last).length > 0 && !sent.problem;
  return {
    remembered: offers,
    same: canRepeat ? last : undefined,
    sent: sent.same ? { ...sent, posted: { ...last, ...sent.posted } } : sent,
  };
}

/** A value already in the page's address, so that "same as last time" keeps it. */
export const queryPair = (name: string, value: string | string[] | undefined): string | undefined =>
  typeof value === 'string' && value !== '' ? `${name}=${encodeURIComponent(value)}` : undefined;

/**
 * Fills in the contact details of somebody who was picked by name, from the newest record with any: they were shown
 * beside the name. Filled boxes stay as they are, and a typed name is not looked up.
 */
export async function withContactDetails(
  principal: Principal,
  kind: 'dispatch' | 'receipt',
  posted: Posted,
): Promise<Posted> {
  const name = kind === 'dispatch' ? 'to' : 'supplier';
  const picked = firstText(posted[`${name}~pick`]);
  if (picked === '' || firstText(posted[name]) !== '') return posted;
  const samePerson = (await recentTyped(principal, kind)).filter((typed) => typed[name]?.trim() === picked);
  const reach = Object.fromEntries(
    (kind === 'dispatch' ? ['contact', 'telephone'] : ['contact']).map((field) => [
      field,
      firstText(posted[field]) || (samePerson.find((typed) => typed[field])?.[field] ?? ''),
    ]),
  );
  return { ...posted, ...reach };
}
