import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

interface HouseRow {
  readonly own: boolean;
  readonly open: boolean;
  readonly key: string;
  readonly prefix: string;
  readonly name: string;
}

export interface HousesPageProps {
  readonly title: string;
  readonly here: string;
  readonly houses: readonly HouseRow[];
}

/** The sugarhouses of this book. */
export const HousesPage = ({ title, here, houses, page }: HousesPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <h1>Sugarhouses</h1>
    <p class="now">Each sugarhouse has its own records here. You can enter records in your own and read the others.</p>
    <ul class="lots">
      {houses.map((house) => (
        <li>
          <form method="post" action="/houses" class="house-row">
            <input type="hidden" name="house" value={house.key} />
            <span>
              <b>{house.name}</b>
              <br />
              <span class="soft">
                {house.own ? 'Your own book' : 'Read only'}
                {house.prefix && (
                  <>
                    ; its lot codes begin with <span class="code">{house.prefix}</span>
                  </>
                )}
              </span>
            </span>
            {house.open ? (
              <span class="soft">Open now</span>
            ) : (
              <button class="quiet">
                {house.own ? 'Back to your own' : 'Read its book'}
                <span class="unseen">: {house.name}</span>
              </button>
            )}
          </form>
        </li>
      ))}
    </ul>
  </Layout>
);
