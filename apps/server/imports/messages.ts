import type { WriteContext } from '#libs/actions/record/write-context.js';
import type { Imported, ImportOptions } from '#libs/actions/import/import-rows.js';
import type { BookLocation } from '#libs/store/connection/engine.js';

/** From the server: the one file to import. */
export interface ImportRequest {
  readonly location: BookLocation;
  readonly context: WriteContext;
  /** The kind's plural, as in the address and the form. */
  readonly plural: string;
  readonly bytes: Uint8Array;
  readonly options: ImportOptions;
}

/** From the process: the result. A file that is refused is a result too. */
export type ImportAnswer = { readonly imported: Imported } | { readonly failed: string };
