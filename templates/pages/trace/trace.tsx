import type { LotState } from '#libs/records/entry.js';
import type { DispatchKind } from '#libs/records/record-types.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { Dispatches } from '../parts/dispatches.js';
import { Drawing } from '../parts/drawing.js';
import { More, type Paged } from '../parts/more.js';
import { StatusStamp } from '../parts/status-stamp.js';
import { TakenOff, type TakenOffProps } from '../parts/taken-off.js';
import { Trace } from '../parts/trace.js';

interface TraceEvery {
  readonly code: string;
  readonly pack: string;
  readonly n: number;
  readonly where: string;
}

interface TraceWent {
  readonly jars: string;
  readonly when: string;
  readonly codes: readonly string[];
  readonly moreCodes: number;
  readonly lot: string;
  readonly to: string;
  readonly kind: DispatchKind;
  readonly contact: string;
  readonly planned: boolean;
}

interface TracePack {
  readonly jars: string;
  readonly lot: string;
  readonly container: string;
  readonly status: LotState;
}

interface TraceMember {
  readonly name: string;
  readonly receipt: string;
  readonly lot: null | string;
  readonly shown: string;
  readonly boils: readonly string[];
  readonly gatherings: readonly string[];
}

export interface TracePageProps {
  readonly title: string;
  readonly here: string;
  readonly code: string;
  readonly status: LotState;
  readonly across: string;
  readonly down: string;
  readonly uncovered: string;
  readonly shares: Paged<{ readonly lot: string; readonly part: string; readonly volume: string }>;
  readonly boils: Paged<string>;
  readonly gatherings: Paged<string>;
  readonly members: readonly TraceMember[];
  readonly packs: Paged<TracePack>;
  readonly jars: readonly (readonly [string, string | number])[];
  readonly syrupNoun: string;
  readonly syrup: readonly (readonly [string, string])[];
  readonly went: Paged<TraceWent>;
  readonly takenOff: TakenOffProps['takenOff'];
  readonly every: Paged<TraceEvery>;
  readonly wayWords: string;
}

export const TracePage = ({
  title,
  here,
  code,
  status,
  across,
  down,
  uncovered,
  shares,
  boils,
  gatherings,
  members,
  packs,
  jars,
  syrupNoun,
  syrup,
  went,
  takenOff,
  every,
  wayWords,
  page,
}: TracePageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href={`/lots/${encodeURIComponent(code)}`}>← {code}</a>
    </p>
    <div class="title">
      <h1>
        Trace of <span class="code">{code}</span>
      </h1>
      <StatusStamp status={status} />
    </div>
    <figure class="way">
      <div class="broad">
        <Drawing svg={across} />
      </div>
      <div class="narrow">
        <Drawing svg={down} />
      </div>
    </figure>
    <Trace
      uncovered={uncovered}
      shares={shares}
      boils={boils}
      gatherings={gatherings}
      members={members}
      packs={packs}
      jars={jars}
      syrupNoun={syrupNoun}
      syrup={syrup}
    />
    {went.count > 0 && (
      <>
        <h2 id="went">Went to</h2>
        <Dispatches {...went} />
      </>
    )}
    <TakenOff takenOff={takenOff} />
    {every.count > 0 && (
      <>
        <h2 id="every">Every jar: {every.count.toLocaleString('en')}</h2>
        <ul class="lots">
          {every.rows.map((row) => (
            <li>
              <a class="row" href={`/jars/${row.code}`}>
                <span class="code">{row.code}</span>
                <span class="grow">
                  <span class="soft">
                    no. {row.n} of {row.pack}:
                  </span>{' '}
                  {row.where}
                </span>
              </a>
            </li>
          ))}
        </ul>
        <More {...every} />
      </>
    )}
    <details class="more">
      <summary>Description of the drawing</summary>
      <p>{wayWords}</p>
    </details>
    <p>
      <a class="quiet" href={`/lots/${encodeURIComponent(code)}/recall.pdf`}>
        Recall list, PDF: who has it, whom to call
      </a>
    </p>
  </Layout>
);
