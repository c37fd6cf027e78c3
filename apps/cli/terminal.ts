import type { Writable } from 'node:stream';
import type { Environment } from '#libs/actions/accounts/book-settings.js';

/** The environment and the streams that a command is run with: those of `process`, or a test's own. */
export interface Terminal {
  readonly env: Environment;
  readonly stdout: Writable;
  readonly stderr: Writable & { readonly isTTY?: boolean };
}
