import { type Fact, FactList } from './fact-list.js';
import { More, type Paged } from './more.js';
import { StatusStamp } from './status-stamp.js';

interface TracedMemberLot {
  readonly shown: string;
  readonly name: string;
  readonly receipt: string;
  readonly lot: string | null;
  readonly boils: readonly string[];
  readonly gatherings: readonly string[];
}

export interface TraceProps {
  readonly shares: Paged<{ readonly lot: string; readonly part: string; readonly volume: string }>;
  readonly boils: Paged<string>;
  readonly gatherings: Paged<string>;
  /** Lots of other sugarhouses that were received; `lot` is null where their book has no such lot. */
  readonly members: readonly TracedMemberLot[];
  readonly packs: Paged<{
    readonly lot: string;
    readonly jars: string;
    readonly container: string;
    readonly status: string;
  }>;
  readonly jars: readonly Fact[];
  readonly syrupNoun: string;
  readonly syrup: readonly Fact[];
}

/** What a lot or jar came from, what became of it, and where every jar is. */
export const Trace = ({ shares, boils, gatherings, members, packs, jars, syrupNoun, syrup }: TraceProps) => (
  <>
    <h2>Comes from</h2>
    <ComesFrom shares={shares} boils={boils} gatherings={gatherings} />
    {members.map((member) => (
      <MemberLot {...member} />
    ))}
    {packs.count > 0 && (
      <>
        <h2 id="packs">Packs</h2>
        <Packs packs={packs} />
        <More {...packs} />
      </>
    )}
    <h2>Where the jars are</h2>
    <FactList facts={jars} />
    <h2>{syrupNoun}, by volume</h2>
    <FactList facts={syrup} />
  </>
);

const ComesFrom = ({ shares, boils, gatherings }: Pick<TraceProps, 'shares' | 'boils' | 'gatherings'>) => (
  <dl class="facts">
    {shares.count > 0 && (
      <>
        <dt id="shares">Syrup of</dt>
        <dd>
          {shares.rows.map((share) => (
            <>
              <a class="code" href={`/lots/${encodeURIComponent(share.lot)}`}>
                {share.lot}
              </a>{' '}
              <b>{share.part}</b> <span class="soft whole">{share.volume}</span> &ensp;
            </>
          ))}
          <More {...shares} />
        </dd>
      </>
    )}
    {(boils.count > 0 || shares.count === 0) && (
      <>
        <dt id="boils">{shares.count ? 'Only the syrup left in their pans' : 'Boils'}</dt>
        <dd>
          {boils.rows.map((boil) => (
            <>
              <a class="code" href={`/lots/${boil}`}>
                {boil}
              </a>{' '}
            </>
          ))}
          {boils.count ? '' : 'none recorded'}
          <More {...boils} />
        </dd>
      </>
    )}
    <dt id="sap">Sap, and what was bought</dt>
    <dd>
      {gatherings.rows.map((gathering) => (
        <>
          <a class="code" href={`/lots/${encodeURIComponent(gathering)}`}>
            {gathering}
          </a>{' '}
        </>
      ))}
      {gatherings.count ? '' : 'none recorded'}
      <More {...gatherings} />
    </dd>
  </dl>
);

const MemberLot = (member: TracedMemberLot) => (
  <p>
    <b class="code">{member.shown}</b>, {member.name}’s, by{' '}
    <a class="code" href={`/lots/${encodeURIComponent(member.receipt)}`}>
      {member.receipt}
    </a>
    :{' '}
    {member.lot === null ? (
      'its own book has no such lot'
    ) : (
      <>
        boils <span class="code">{member.boils.join(', ') || 'none'}</span>, sap{' '}
        <span class="code">{member.gatherings.join(', ') || 'none'}</span>
      </>
    )}
    .
  </p>
);

const Packs = ({ packs }: Pick<TraceProps, 'packs'>) => (
  <ul class="lots">
    {packs.rows.map((pack) => (
      <li>
        <a class="row" href={`/lots/${pack.lot}`}>
          <span class="code">{pack.lot}</span>
          <span class="grow">
            {pack.jars}, {pack.container}
          </span>
          <StatusStamp status={pack.status} />
        </a>
      </li>
    ))}
  </ul>
);
