import { More, type MoreProps } from '../parts/more.js';
import { Swatch } from '../parts/swatch.js';

export interface SeasonLot {
  readonly lot: string;
  readonly packed: string;
  readonly container: string;
  readonly made: number;
  readonly out: number;
  readonly onHand: number;
  readonly unaccounted: string | number;
  readonly fill: string;
  readonly brix: string;
  readonly colour: null | 'Golden' | 'Amber' | 'Dark' | 'Very Dark';
  readonly swatch: string | undefined;
  readonly status: 'open' | 'held' | 'released' | 'recalled';
  /** None may be sold, given away or sampled before its seals are checked. */
  readonly sealsUnchecked: boolean;
}

export interface SeasonLotsProps {
  readonly lots: readonly SeasonLot[];
  readonly moreLots: MoreProps;
}

/** The packs of the season, one row each. */
export const SeasonLots = ({ lots, moreLots }: SeasonLotsProps) => (
  <>
    <h2 id="lots">Lots</h2>
    <div class="scroll" tabindex={0} role="region" aria-label="Lots of the season">
      <table class="lot-table rows">
        <Headings />
        <tbody>
          {lots.map((lot) => (
            <LotRow lot={lot} />
          ))}
        </tbody>
      </table>
    </div>
    <More {...moreLots} />
  </>
);

const Headings = () => (
  <thead>
    <tr>
      <th scope="col">Lot</th>
      <th scope="col">Packed</th>
      <th scope="col">Container</th>
      <th scope="col" class="n">
        Made
      </th>
      <th scope="col" class="n">
        Out
      </th>
      <th scope="col" class="n">
        On hand
      </th>
      <th scope="col" class="n">
        Unaccounted for
      </th>
      <th scope="col">Lowest fill</th>
      <th scope="col" class="n">
        °Bx
      </th>
      <th scope="col">Colour</th>
      <th scope="col">Status</th>
    </tr>
  </thead>
);

const LotRow = ({ lot }: { readonly lot: SeasonLot }) => (
  <tr>
    <th scope="row">
      <a class="code" href={`/lots/${lot.lot}`}>
        {lot.lot}
      </a>
    </th>
    <td data-of="Packed">{lot.packed}</td>
    <td data-of="Container">
      <Container text={lot.container} />
    </td>
    <td class="n" data-of="Made">
      {lot.made}
    </td>
    <td class="n" data-of="Out">
      {lot.out}
    </td>
    <td class="n" data-of="On hand">
      {lot.onHand}
    </td>
    <td class="n" data-of="Unaccounted for">
      {lot.unaccounted}
    </td>
    <td data-of="Lowest fill">{lot.fill}</td>
    <td class="n" data-of="°Bx">
      {lot.brix}
    </td>
    <td data-of="Colour">
      {lot.swatch && <Swatch fill={lot.swatch} />}
      {lot.colour ?? ''}
    </td>
    <td class="state">
      {lot.status === 'open' ? (
        lot.sealsUnchecked ? (
          'seals not checked'
        ) : (
          'may go out'
        )
      ) : (
        <span class={`stamp small ${lot.status}`}>{lot.status.toUpperCase()}</span>
      )}
    </td>
  </tr>
);

/** A usual container stays on one line; of a longer one, the volume. */
const Container = ({ text }: { readonly text: string }) => {
  const volumeAt = text.length > 22 ? text.search(/\d\S*( [a-zA-Z]+)+$/) : 0;
  if (volumeAt < 0) return <>{text}</>;
  return (
    <>
      {text.slice(0, volumeAt)}
      <span class="whole">{text.slice(volumeAt)}</span>
    </>
  );
};
