import type { PageProps } from '../page-context.js';
import { Drawing } from '../parts/drawing.js';

export interface PrintPageProps {
  readonly title: string;
  /** The page to return to. */
  readonly back: { readonly href: string; readonly text: string };
  /** A style sheet with the size of the paper. */
  readonly paper: string;
  /** Pages as SVG that our own code drew. */
  readonly sheets: readonly string[];
  /** The dialogue opens by itself; on a new sheet it doesn't, so that the alignment sheet is offered first. */
  readonly opens: boolean;
  readonly alignment?: string | undefined;
}

/** Only the sheets, for paper: the print dialogue of a phone or tablet prints them at their own size. */
export const PrintPage = ({ title, back, paper, sheets, opens, alignment }: PrintPageProps & PageProps) => (
  <html lang="en">
    <head>
      <meta charset="utf-8" />
      <meta name="viewport" content="width=device-width, initial-scale=1" />
      <title>{title}</title>
      <link rel="stylesheet" href="/assets/print-sheets.css" />
      <link rel="stylesheet" href={paper} />
      <script src="/assets/print-sheets.js" defer />
    </head>
    <body data-opens={opens ? '' : undefined}>
      <header class="screen-only">
        <p>
          <a href={back.href}>← {back.text}</a>
        </p>
        <h1>{title}</h1>
        {alignment && (
          <p>
            First time on this sheet: print its alignment sheet on plain paper and hold it behind the labels against the
            light. <a href={alignment}>Print the alignment sheet first</a>
          </p>
        )}
        <p>Print at 100 %, without margins, on paper of the sheet’s own size.</p>
        <button type="button" data-print>
          Print
        </button>
      </header>
      <main>
        {sheets.map((svg) => (
          <div class="sheet-of-labels">
            <Drawing svg={svg} />
          </div>
        ))}
      </main>
    </body>
  </html>
);
