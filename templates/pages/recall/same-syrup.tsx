import { More, type Paged } from '../parts/more.js';
import { StatusStamp } from '../parts/status-stamp.js';

export interface PackOfSameSyrupRow {
  readonly lot: string;
  /** `packed Mar 20 10:15 from 26077A`. */
  readonly packed: string;
  readonly jars: string;
  readonly state: string;
}

export interface SameSyrupProps {
  readonly sameSyrup: Paged<PackOfSameSyrupRow>;
  /** The address of the list that has these packs too. */
  readonly withThem: string;
}

/** Packs filled from the same syrup that the list leaves out, and the list with them. */
export const SameSyrup = ({ sameSyrup, withThem }: SameSyrupProps) => (
  <>
    <h2 id="same">Packed from the same syrup, not on this list</h2>
    <ul>
      {sameSyrup.rows.map((pack) => (
        <li>
          <a class="code" href={`/lots/${pack.lot}`}>
            {pack.lot}
          </a>{' '}
          <StatusStamp status={pack.state} /> {pack.packed}, {pack.jars}
        </li>
      ))}
    </ul>
    <More {...sameSyrup} />
    <p>
      Was the cause in the syrup? Then these jars have it too. <a href={withThem}>Add them to the list</a>
    </p>
  </>
);
