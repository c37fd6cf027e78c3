import type { WriteContext } from '#libs/actions/record/write-context.js';
import type { Imported, ImportOptions } from '#libs/actions/import/import-rows.js';
import type { BookLocation } from '#libs/store/connection/engine.js';

/** From the server: the one file to take. */
export interface ImportRequest {
  readonly location: BookLocation;
  readonly context: WriteContext;
  /** The kind's plural, as the address and the form have it. */
  readonly plural: string;
  readonly bytes: Uint8Array;
  readonly options: ImportOptions;
}

/** From the process: what became of it. A file that is refused is an answer too. */
export type ImportAnswer = { readonly imported: Imported } | { readonly failed: string };
