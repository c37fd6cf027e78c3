import type { Writable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { setImmediate as nextTurn, setTimeout as pause } from 'node:timers/promises';
import type { Paper } from './paper.js';

/**
 * Draws a document into `out`. Resolves when the last byte has been accepted; rejects where drawing fails or `out`
 * fails or is closed early, and then stops drawing.
 */
export async function streamPaper(paper: Paper, out: Writable, draw: () => Promise<void>): Promise<void> {
  const written = pipeline(paper.doc, out);
  const aborted = written.catch(() => undefined);
  try {
    await Promise.race([draw(), aborted]);
  } catch (fault) {
    paper.doc.destroy(fault instanceof Error ? fault : new Error(String(fault)));
  }
  await written;
}

/**
 * Lets other work run, and waits while the document's reader is behind, so that a long document is never held whole in
 * memory. Call it between pages.
 */
export async function yieldWhileDrawing(paper: Paper): Promise<void> {
  await nextTurn();
  while (paper.doc.readableLength > maxWaitingBytes && !paper.doc.destroyed) await pause(5);
  if (paper.doc.destroyed) throw new Error('The client disconnected before the document was complete');
}

const maxWaitingBytes = 1 << 20;
