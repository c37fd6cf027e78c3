import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

interface StockRow {
  readonly name: string;
  readonly text: string;
  /** Labels per page. */
  readonly each: number;
}

export interface StockListPageProps {
  readonly title: string;
  readonly here: string;
  readonly own: readonly StockRow[];
  readonly retired: readonly StockRow[];
  readonly shipped: readonly StockRow[];
}

/** Sheets and rolls that labels are printed on: those of the house, and those that come with the program. */
export const StockListPage = ({ title, here, own, retired, shipped, page }: StockListPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <h1>Label sheets</h1>
    <p class="now">Sheets and rolls by size. Measure yours once with a ruler; the sizes are saved.</p>
    <h2>Your own</h2>
    {own.length > 0 ? <Stocks stocks={own} of="own" page={page} /> : <p class="soft">None yet.</p>}
    {page.may('maker') && (
      <a class="main-action" href="/stocks/new">
        Add a label sheet
      </a>
    )}
    {retired.length > 0 && (
      <>
        <h2>Not used any more</h2>
        <Stocks stocks={retired} of="not used any more" page={page} />
      </>
    )}
    <h2>Built in</h2>
    <Stocks stocks={shipped} of="shipped" page={page} />
  </Layout>
);

interface StocksProps extends PageProps {
  readonly stocks: readonly StockRow[];
  readonly of: 'own' | 'not used any more' | 'shipped';
}

const Stocks = ({ stocks, of, page }: StocksProps) => (
  <ul class="lots">
    {stocks.map((stock) => (
      <li>
        <p>
          <b>{stock.text}</b>, {stock.each} a page <span class="code small whole">{stock.name}</span>
        </p>
        <p class="small">
          {of !== 'not used any more' && (
            <>
              <a href={`/stocks/${stock.name}/alignment.pdf`}>
                Alignment sheet<span class="unseen"> for {stock.text}</span>
              </a>{' '}
              &ensp;
            </>
          )}
          {of !== 'shipped' && (
            <>
              <a href={`/records/stock/${stock.name}`}>
                Its record<span class="unseen"> of {stock.name}</span>
              </a>
              {page.may('maker') && (
                <>
                  {' '}
                  &ensp;
                  <a href={`/records/stock/${stock.name}/correct`}>
                    Correct<span class="unseen"> {stock.name}</span>
                  </a>
                </>
              )}
            </>
          )}
        </p>
      </li>
    ))}
  </ul>
);
