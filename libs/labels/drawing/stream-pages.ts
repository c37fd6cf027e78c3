import { setImmediate as nextTurn } from 'node:timers/promises';
import type { Writable } from 'node:stream';
import { finished } from 'node:stream/promises';

export interface PageStream {
  /** After each page: waits until `out` has accepted what was drawn, and yields to other work. */
  pageDone(): Promise<void>;
  /** Ends the document and resolves to the bytes written, once `out` has them all. */
  finish(): Promise<number>;
}

/** pdfkit ignores backpressure: a page is drawn only when the one before it has been written. */
export function streamPages(document: PDFKit.PDFDocument, out: Writable): PageStream {
  let bytes = 0;
  let failed: Error | undefined;
  const fail = (error: Error): void => {
    failed ??= error;
  };
  out.on('error', fail);
  out.on('close', () => {
    if (!out.writableFinished) fail(new Error(closedText));
  });
  const writePending = async (): Promise<void> => {
    if (out.destroyed) fail(new Error(closedText));
    for (let piece = readChunk(document); piece !== null; piece = readChunk(document)) {
      if (failed) throw failed;
      bytes += piece.length;
      if (!out.write(piece) && !out.closed) await drainedOrClosed(out);
    }
    if (failed) throw failed;
  };
  return {
    async pageDone() {
      await writePending();
      await nextTurn();
    },
    async finish() {
      document.end();
      await writePending();
      if (!out.writableEnded) out.end();
      if (!out.writableFinished) await finished(out, { readable: false });
      return bytes;
    },
  };
}

const closedText = 'the labels were no longer wanted: what took them was closed';

/** Both listeners are removed: over thousands of pages they would accumulate. */
function drainedOrClosed(out: Writable): Promise<void> {
  return new Promise((resolve) => {
    const settle = (): void => {
      out.off('drain', settle).off('close', settle);
      resolve();
    };
    out.on('drain', settle).on('close', settle);
  });
}

const readChunk = (document: PDFKit.PDFDocument): Buffer | null => document.read() as Buffer | null;
