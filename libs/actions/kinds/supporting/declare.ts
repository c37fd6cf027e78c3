import type { SupportingName } from '#libs/records/record-types.js';
import type { Lot, StoredRecord } from '#libs/store/queries/lots.js';
import { packsOfSameBoils } from '../../facts/spoilage-facts.js';
import {
  type BodyOf,
  type Fields,
  pastMoment,
  optional,
  withDefault,
  ownId,
  signature,
  freeText,
} from '../../record/fields.js';
import { kind, type Kind, type PrepareContext, type Writer } from '../../record/kind.js';
import { invalid, type Refusal } from '../../record/problem.js';
import { lookUpLot } from '../../record/references.js';

/** Fields of every supporting record: its id, when it happened and who signed it. */
export const commonFields = {
  id: optional(ownId, { label: 'Id', hint: 'Leave blank for the next one' }),
  at: optional(pastMoment, { label: 'When', example: '2026-03-01T09:00', hint: 'If blank, now' }),
  by: withDefault(signature, '', { label: 'By', example: 'WE' }),
};
export const noteField = freeText({ label: 'Note' });

/** What the program adds to a record, and the notes shown to whoever saves it. */
export interface Completion {
  readonly body?: Readonly<Record<string, unknown>>;
  readonly notes?: readonly string[];
}

/** The lot that a record is about, if any; `body` and `notes` as in `Completion`. */
export interface FoundLot extends Completion {
  readonly lot: Lot | undefined;
}

/** A supporting record: what an inspector reads beside the lots. A new kind needs only one of these. */
export interface SupportingRecord<F extends Fields = Fields> {
  /** Its name in the log, never changed. */
  readonly kind: SupportingName;
  /** Its name in files, addresses and commands: `trainings`. */
  readonly plural: string;
  /** Its name in a sentence: `training`. */
  readonly noun: string;
  /** The lowest role that may write one. */
  readonly writer: Writer;
  readonly fields: F;
  /**
   * The fields that the season's summary prints under *Other records*; absent where the kind has a section of its own.
   */
  readonly summary?: readonly string[];
  /** The id of a record that isn't numbered. */
  readonly idOf?: (input: BodyOf<F>) => string;
  /** Whether the lot it names, and the packs of the same boils, are judged again. */
  readonly judgesLot?: boolean;
  /** Why the record can't be right as written; undefined where it can. */
  readonly refuse?: (input: BodyOf<F>, at: PrepareContext, before: BodyOf<F> | undefined) => Refusal | undefined;
  /** The lot that it is about, where that depends on more than the lot it names, and the fields that change with it. */
  readonly findLot?: (
    input: BodyOf<F>,
    named: Lot | undefined,
    at: PrepareContext,
    before: StoredRecord | undefined,
  ) => Promise<FoundLot | Refusal>;
  /** `when` is when it happened, ISO 8601. */
  readonly complete?: (input: BodyOf<F>, when: string, at: PrepareContext) => Completion | Promise<Completion>;
}

/** The fields that every supporting record has, and the lot that some name. */
type CommonBody = BodyOf<typeof commonFields> & { readonly lot?: string };

export type SupportingKind = Kind & Pick<SupportingRecord, 'summary'> & { readonly writer: Writer };

/** Makes a kind from its declaration: looks up the lot it names, and fills in who and when by default. */
export const supportingRecord = <F extends typeof commonFields>({
  idOf,
  judgesLot,
  refuse,
  findLot,
  complete,
  summary,
  ...declared
}: SupportingRecord<F>): SupportingKind => ({
  ...kind({
    ...declared,
    idFields: ['id'],
    prepare: async (at, { body: input }, before) => {
      const common = input as CommonBody;
      const { reader } = at;
      const named = common.lot === undefined ? undefined : await lookUpLot(reader, common.lot);
      if (common.lot !== undefined && !named) return invalid('lot', 'a lot of this book', `"${common.lot}"`);
      const impossible = refuse?.(input, at, before?.body as BodyOf<F> | undefined);
      if (impossible) return impossible;
      const found: FoundLot | Refusal = (await findLot?.(input, named, at, before)) ?? { lot: named };
      if ('problem' in found) return found;
      const { lot } = found;
      const when = common.at ?? at.first.at;
      const completion = (await complete?.(input, when, at)) ?? {};
      return {
        id: idOf?.(input) ?? common.id ?? before?.id ?? '',
        lot: lot?.code,
        happenedAt: when,
        body: {
          ...input,
          ...(lot ? { lot: lot.code } : {}),
          at: when,
          by: common.by || at.first.by,
          ...found.body,
          ...completion.body,
        },
        about: lot ? [lot.code] : [],
        judge: judgesLot && lot ? [lot.code, ...(await packsOfSameBoils(reader, lot.code))] : [],
        notes: [...(found.notes ?? []), ...(completion.notes ?? [])],
      };
    },
  }),
  writer: declared.writer,
  ...(summary && { summary }),
});
