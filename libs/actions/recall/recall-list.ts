import type { Writable } from 'node:stream';
import { type PaperName, paperSize } from '#libs/pdf/paper-size.js';
import type { Recall } from '#libs/reports/recall/recall.js';
import type { Book } from '#libs/store/book.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { type Refusal, unknown } from '../record/problem.js';
import type { WriteContext } from '../record/write-context.js';
import { loadSeasonContext } from '../season/season-context.js';
import { readRecall } from './read-recall.js';

export interface RecallListRequest {
  /** The reason that the list prints; if omitted, that of the declared recall. */
  readonly why?: string | undefined;
  /** Whether to name lots of other sugarhouses in the book too. */
  readonly members: boolean;
}

/** What a recall of these lots reaches and whom to call, at one moment; undefined where the first code is no lot. */
export const recallList = (
  book: Book,
  context: WriteContext,
  codes: readonly string[],
  { why, members }: RecallListRequest,
): Promise<Recall | undefined> =>
  book.snapshot(
    async (sql) =>
      readRecall(sugarhouseReader(sql, context.sugarhouse), codes, await loadSeasonContext(sql, context), {
        ...(why === undefined ? {} : { why }),
        by: context.by,
        members,
      }),
    { rerun: true },
  );

export interface RecallDocument {
  readonly recall: Recall;
  readonly name: string;
  readonly write: (out: Writable) => Promise<void>;
}

/** The same as a PDF to work from, with the notice to post. Read-only: it recalls nothing. */
export async function recallDocument(
  book: Book,
  context: WriteContext,
  codes: readonly string[],
  { paper, ...request }: RecallListRequest & { readonly paper?: PaperName | undefined },
): Promise<RecallDocument | Refusal> {
  const recall = await recallList(book, context, codes, request);
  if (!recall) return unknown('lot', codes.join(', '));
  const write = async (out: Writable): Promise<void> => {
    const { writeRecallPdf } = await import('#libs/reports/recall/recall-pdf.js');
    await writeRecallPdf(recall, out, context.now, paperSize(paper, recall.house));
  };
  return { recall, name: `recall-${codes[0]}.pdf`, write };
}
