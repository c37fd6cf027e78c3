import { readCsv } from '#libs/actions/import/csv-file.js';
import type { Kind } from '#libs/actions/record/kind.js';
import type { FileRow } from '#pages/files/preview.js';

const maxRows = 5;
/** Enough for some rows of any file; the whole of a long one is read by the import alone. */
const maxBytes = 64 * 1024;

/**
 * The first rows of a file, each value under the label of its box: a person recognises by them whether it is the right
 * file. Blank where the beginning of the file can't be read by itself.
 */
export function firstRowsOf(kind: Kind, bytes: Uint8Array): FileRow[] {
  const end = bytes.length <= maxBytes ? bytes.length : bytes.subarray(0, maxBytes).lastIndexOf(0x0a) + 1;
  return readCsv(bytes.subarray(0, end), kind.fields)
    .rows.slice(0, maxRows)
    .map(({ line, cells }) => ({
      line,
      values: Object.entries(cells).map(([name, value]) => ({ label: kind.fields[name]?.label ?? name, value })),
    }));
}
