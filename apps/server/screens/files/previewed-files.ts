import { randomUUID } from 'node:crypto';

export interface PreviewedFile {
  readonly kind: string;
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly why: string | undefined;
  /** Only the person who previewed it may import it. */
  readonly by: string;
}

/** Keeps a file between its preview and its import; of more than a few, the oldest is dropped. */
export function keepUntilImport(file: PreviewedFile): string {
  const ticket = randomUUID();
  previewedFiles.set(ticket, file);
  for (const oldest of previewedFiles.keys()) {
    const bytes = [...previewedFiles.values()].reduce((sum, each) => sum + each.bytes.length, 0);
    if (previewedFiles.size <= maxFiles && bytes <= maxBytes) break;
    if (oldest !== ticket) previewedFiles.delete(oldest);
  }
  return ticket;
}

/** The file of this ticket, only for the person who sent it; undefined for anyone else. */
export function findPreviewedFile(ticket: string, by: string): PreviewedFile | undefined {
  const file = previewedFiles.get(ticket);
  return file?.by === by ? file : undefined;
}

const maxFiles = 8;
const maxBytes = 64 * 1024 * 1024;
const previewedFiles = new Map<string, PreviewedFile>();
