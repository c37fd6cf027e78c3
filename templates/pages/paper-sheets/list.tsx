import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

export interface PaperSheetsPageProps {
  readonly title: string;
  readonly here: string;
}

/** The sheets that can be printed. */
export const PaperSheetsPage = ({ title, here, page }: PaperSheetsPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <h1>Paper sheets</h1>
    <p class="now">
      Print, hang up and fill in with a pencil. An entry that you copy in later is marked as from paper.
    </p>
    <ul class="log-buttons">
      <li>
        <a class="quiet" href="/paper-sheets/boil">
          Boil sheet
        </a>
      </li>
      <li>
        <a class="quiet" href="/paper-sheets/pack">
          Pack sheet
        </a>
      </li>
    </ul>
  </Layout>
);
