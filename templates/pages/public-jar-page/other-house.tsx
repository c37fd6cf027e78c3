import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

export interface OtherHousePageProps {
  readonly title: string;
  readonly here: string;
  readonly printed: string;
  readonly lot: string;
  readonly whose: { readonly key: string; readonly name: string };
  readonly own: boolean;
}

/** Shown for a jar of another house in this book. */
export const OtherHousePage = ({ title, here, printed, lot, whose, own, page }: OtherHousePageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <div class="title">
      <h1 class="code">{printed}</h1>
    </div>
    <p class="now">
      A jar of <b class="code">{lot}</b>, from the book of <b>{whose.name}</b>.
    </p>
    <form method="post" action="/houses">
      <input type="hidden" name="house" value={whose.key} />
      <input type="hidden" name="to" value={`/jars/${printed}`} />
      <button class="main-action">{own ? 'Trace it in your own book' : `Trace it in the book of ${whose.name}`}</button>
    </form>
  </Layout>
);
