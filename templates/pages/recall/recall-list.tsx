import { type Fact, FactList } from '../parts/fact-list.js';
import { More, type Paged } from '../parts/more.js';
import { SameSyrup, type SameSyrupProps } from './same-syrup.js';
import { RecallFacts, type RecallFactsProps } from './recall-facts.js';

export interface RecallPack {
  readonly lot: string;
  readonly boundBy: string;
  readonly jarsMade: number;
  readonly jarsOnHand: number;
  readonly jarsSentOut: number;
  readonly unaccounted: number | null;
}

export interface RecallDispatch {
  readonly lot: string;
  readonly jars: string;
  readonly kind: string;
  readonly to: string;
  readonly contact: string;
  readonly when: string;
}

/** Every jar that a deviation affects, and where it is. */
export interface RecallListProps extends RecallFactsProps, SameSyrupProps {
  /** The lots it begins from, and which of them the page lists by name. */
  readonly codes: readonly string[];
  readonly began: Paged<string>;
  /** The lots are recalled; until then the list changes nothing. */
  readonly declared: boolean;
  readonly reach: string;
  readonly calls: { readonly count: number; readonly reached: number };
  readonly packs: Paged<RecallPack>;
  readonly balance: readonly Fact[];
  readonly went: Paged<RecallDispatch>;
  readonly plans: Paged<{ readonly lot: string; readonly jars: string; readonly to: string }>;
  readonly upstream: Paged<{ readonly code: string; readonly words: string }>;
  /** The page's own query, for its documents. */
  readonly query: string;
}

/** From the lots it begins from to every jar: packs, the reconciliation, where they went, what is planned. */
export const RecallList = ({
  list,
  suspectPeriod,
}: {
  readonly list: RecallListProps;
  readonly suspectPeriod: string;
}) => (
  <>
    <h2>Starts from</h2>
    {suspectPeriod && <p>{suspectPeriod}</p>}
    <p>
      {list.began.rows.map((row) => (
        <>
          <a class="code" href={`/lots/${encodeURIComponent(row)}`}>
            {row}
          </a>{' '}
        </>
      ))}
      {list.declared && <span class="stamp small recalled">RECALLED</span>}
      {list.began.summary && <> and {list.codes.length - list.began.rows.length} more</>}
    </p>
    <p class="now">{list.reach}</p>
    {list.declared && <RecallFacts why={list.why} hazard={list.hazard} />}
    {list.calls.count > 0 && (
      <p>
        <a class={list.declared ? 'main-action' : 'quiet'} href={`/recall/calls?${list.query}`}>
          Call list: {list.calls.reached} of {list.calls.count} reached
        </a>
      </p>
    )}
    <Packs packs={list.packs} />
    {list.sameSyrup.count > 0 && <SameSyrup sameSyrup={list.sameSyrup} withThem={list.withThem} />}
    <h2>Reconciliation</h2>
    <FactList facts={list.balance} />
    <Went went={list.went} />
    {list.plans.count > 0 && <Plans plans={list.plans} />}
    {list.upstream.count > 0 && <Upstream upstream={list.upstream} />}
    <p>
      <a class="quiet" href={`/recall/list.pdf?${list.query}`}>
        The list, PDF: who has it, whom to call, a notice to post
      </a>{' '}
      <a class="act" href={`/recall/list.pdf?${list.query}&paper=a4`}>
        on A4
      </a>{' '}
      &ensp;
      <a class="act" href={`/recall/jars.csv?${list.query}`}>
        Every jar, CSV
      </a>
    </p>
  </>
);

const Packs = ({ packs }: Pick<RecallListProps, 'packs'>) => (
  <>
    <h2 id="packs">Packs it reaches</h2>
    {packs.count > 0 ? (
      <>
        <div class="scroll" tabindex={0} role="region" aria-label="Packs it reaches">
          <table class="lot-table rows">
            <thead>
              <tr>
                <th scope="col">Lot</th>
                <th scope="col">Why it is listed</th>
                <th scope="col" class="n">
                  Made
                </th>
                <th scope="col" class="n">
                  On hand
                </th>
                <th scope="col" class="n">
                  Sent out
                </th>
                <th scope="col" class="n">
                  Unaccounted for
                </th>
              </tr>
            </thead>
            <tbody>
              {packs.rows.map((pack) => (
                <tr>
                  <th scope="row">
                    <a class="code" href={`/lots/${pack.lot}`}>
                      {pack.lot}
                    </a>
                  </th>
                  <td data-of="Why it is listed">{pack.boundBy}</td>
                  <td class="n" data-of="Made">
                    {pack.jarsMade}
                  </td>
                  <td class="n" data-of="On hand">
                    {pack.jarsOnHand}
                  </td>
                  <td class="n" data-of="Sent out">
                    {pack.jarsSentOut}
                  </td>
                  <td class="n" data-of="Unaccounted for">
                    {pack.unaccounted ?? 'not counted'}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
        <More {...packs} />
      </>
    ) : (
      <p>None: none of it was packed in jars.</p>
    )}
  </>
);

const Went = ({ went }: Pick<RecallListProps, 'went'>) => (
  <>
    <h2 id="went">Where they went</h2>
    {went.count > 0 ? (
      <>
        <ol class="entry-list">
          {went.rows.map((dispatch) => (
            <li>
              <span class="when">
                <b>{dispatch.when}</b>
                {dispatch.kind}
              </span>
              <div class="what">
                <p>
                  <b>{dispatch.jars}</b> of{' '}
                  <a class="code" href={`/lots/${dispatch.lot}`}>
                    {dispatch.lot}
                  </a>{' '}
                  {dispatch.kind === 'returned' ? 'back from' : 'to'} {dispatch.to}
                  {dispatch.contact && <>, {dispatch.contact}</>}
                </p>
              </div>
            </li>
          ))}
        </ol>
        <More {...went} />
      </>
    ) : (
      <p>None has left the sugarhouse, by the records.</p>
    )}
  </>
);

const Plans = ({ plans }: Pick<RecallListProps, 'plans'>) => (
  <>
    <h2 id="plans">Planned dispatches: stop these</h2>
    <ul>
      {plans.rows.map((plan) => (
        <li>
          <b>{plan.jars}</b> of <span class="code">{plan.lot}</span> to {plan.to}
        </li>
      ))}
    </ul>
    <More {...plans} />
  </>
);

/** The boils and sap that the recalled lots were made from. */
const Upstream = ({ upstream }: Pick<RecallListProps, 'upstream'>) => (
  <>
    <h2 id="upstream">May share the cause</h2>
    <ul>
      {upstream.rows.map((cause) => (
        <li>
          <span class="code">{cause.code}</span> {cause.words}
        </li>
      ))}
    </ul>
    <More {...upstream} />
  </>
);
