import { once } from 'node:events';
import { setImmediate as nextTurn } from 'node:timers/promises';
import type { Writable } from 'node:stream';

export interface PageStream {
  /** After each page: waits until `out` has taken what was drawn, and lets others have their turn. */
  turned(): Promise<void>;
  /** Ends the document and answers with the bytes written, once `out` has them all. */
  finish(): Promise<number>;
}

/** pdfkit pushes without asking whether anyone reads: a page is drawn only when the one before it has gone. */
export function streamPages(document: PDFKit.PDFDocument, out: Writable): PageStream {
  let bytes = 0;
  let failed: Error | undefined;
  const fail = (error: Error): void => {
    failed ??= error;
  };
  out.on('error', fail);
  out.on('close', () => {
    if (!out.writableFinished) fail(new Error('the labels were no longer wanted: what took them was closed'));
  });
  const passOn = async (): Promise<void> => {
    for (let piece = read(document); piece !== null; piece = read(document)) {
      if (failed) throw failed;
      bytes += piece.length;
      if (!out.write(piece)) await Promise.race([once(out, 'drain'), once(out, 'close')]);
    }
    if (failed) throw failed;
  };
  return {
    async turned() {
      await passOn();
      await nextTurn();
    },
    async finish() {
      document.end();
      await passOn();
      if (!out.writableEnded) out.end();
      if (!out.writableFinished) await once(out, 'finish');
      return bytes;
    },
  };
}

const read = (document: PDFKit.PDFDocument): Buffer | null => (document as unknown as { read(): Buffer | null }).read();
