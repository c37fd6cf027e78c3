import type { NumberedEntry } from '#libs/records/entry.js';
import type { StoredRecord, Lot } from '#libs/store/queries/lots.js';
import type { Posted } from '../../forms/field-view.js';
import type { FormContext } from '../../forms/form-view.js';
import type { Principal } from '../../http/principal.js';
import type { Branches } from '../../diagram/read-branches.js';

/** Kinds of records that a lot's page shows or reads. */
export const aboutLots = ['action', 'labels', 'line', 'complaint', 'verification'] as const;

/** The data from which the page's part for a boil, a pack or sap is built. */
export interface LotContext extends FormContext {
  readonly principal: Principal;
  readonly lot: Lot;
  readonly now: string;
  /** Every entry about the lot, oldest first. */
  readonly history: readonly NumberedEntry[];
  /** The data of its diagram. */
  readonly branches: Branches;
  /** Records about the lot, oldest first. */
  readonly about: <K extends (typeof aboutLots)[number]>(kind: K) => StoredRecord<K>[];
  /** The request's query: where the page's lists begin. */
  readonly query: Posted;
}
