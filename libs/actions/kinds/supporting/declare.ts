import type { SupportingName } from '#libs/records/record-types.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { packsOfSameBoils } from '../../lots/spoilage-facts.js';
import { type Fields, pastMoment, optional, withDefault, ownId, signature, freeText } from '../../record/fields.js';
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

/** A record as parsed from its form, file or JSON. */
export type Input = Readonly<Record<string, unknown>>;

/** What the program adds to a record, and the notes shown to whoever saves it. */
export interface Completion {
  readonly body?: Readonly<Record<string, unknown>>;
  readonly notes?: readonly string[];
}

/** A supporting record: what an inspector reads beside the lots. A new kind needs only one of these. */
export interface SupportingRecord {
  /** Its name in the log, never changed. */
  readonly kind: SupportingName;
  /** Its name in files, addresses and commands: `trainings`. */
  readonly plural: string;
  /** Its name in a sentence: `training`. */
  readonly noun: string;
  /** The lowest role that may write one. */
  readonly writer: Writer;
  readonly fields: Fields;
  /**
   * The fields that the season's summary prints under *Other records*; absent where the kind has a section of its own.
   */
  readonly summary?: readonly string[];
  /** The id of a record that isn't numbered. */
  readonly idOf?: (input: Input) => string;
  /** Whether the lot it names, and the packs of the same boils, are judged again. */
  readonly judgesLot?: boolean;
  /** Why the record can't be right as written; undefined where it can. */
  readonly refuse?: (input: Input, at: PrepareContext, before: Input | undefined) => Refusal | undefined;
  /** `when` is when it happened, ISO 8601. */
  readonly complete?: (input: Input, when: string, at: PrepareContext) => Completion | Promise<Completion>;
}

export type SupportingKind = Kind & Pick<SupportingRecord, 'summary'> & { readonly writer: Writer };

/** Makes a kind from its declaration: looks up the lot it names, and fills in who and when by default. */
export const supportingRecord = ({
  idOf,
  judgesLot,
  refuse,
  complete,
  summary,
  ...declared
}: SupportingRecord): SupportingKind => ({
  ...kind({
    ...declared,
    idFields: ['id'],
    prepare: async (at, { body }, before) => {
      const input = body as Input & { id?: string; at?: string; by: string; lot?: string };
      const reader = sugarhouseReader(at.sql, at.writeContext.sugarhouse);
      const lot = input.lot === undefined ? undefined : await lookUpLot(reader, input.lot);
      if (input.lot !== undefined && !lot) return invalid('lot', 'a lot of this book', `"${input.lot}"`);
      const impossible = refuse?.(input, at, before?.body as Input | undefined);
      if (impossible) return impossible;
      const when = input.at ?? at.first.at;
      const completion = (await complete?.(input, when, at)) ?? {};
      return {
        id: idOf?.(input) ?? input.id ?? before?.id ?? '',
        lot: lot?.code,
        happenedAt: when,
        body: {
          ...input,
          ...(lot ? { lot: lot.code } : {}),
          at: when,
          by: input.by || at.first.by,
          ...completion.body,
        },
        about: lot ? [lot.code] : [],
        judge: judgesLot && lot ? [lot.code, ...(await packsOfSameBoils(reader, lot.code))] : [],
        notes: completion.notes ?? [],
      };
    },
  }),
  writer: declared.writer,
  ...(summary && { summary }),
});
