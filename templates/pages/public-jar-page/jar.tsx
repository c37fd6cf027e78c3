import type { LotState } from '#libs/records/entry.js';
import type { DispatchKind } from '#libs/records/record-types.js';
import type { JarState } from '#libs/syrup/jars/jar-state.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { Dispatches } from '../parts/dispatches.js';
import { Drawing } from '../parts/drawing.js';
import type { Paged } from '../parts/more.js';
import { TakenOff, type TakenOffProps } from '../parts/taken-off.js';
import { Trace } from '../parts/trace.js';

interface JarTracePack {
  readonly jars: string;
  readonly lot: string;
  readonly container: string;
  readonly status: LotState;
}

interface JarTraceMember {
  readonly name: string;
  readonly receipt: string;
  readonly lot: null | string;
  readonly shown: string;
  readonly boils: readonly string[];
  readonly gatherings: readonly string[];
}

interface JarTraceMaybe {
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

interface JarTraceWent {
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

export interface JarTracePageProps {
  readonly title: string;
  readonly here: string;
  readonly pack: string;
  readonly printed: string;
  readonly jarState: JarState;
  readonly status: LotState;
  readonly n: number;
  readonly sentence: string;
  readonly across: string;
  readonly down: string;
  readonly went: Paged<JarTraceWent>;
  readonly maybe: Paged<JarTraceMaybe>;
  readonly takenOff: TakenOffProps['takenOff'];
  readonly uncovered: string;
  readonly shares: Paged<{ readonly lot: string; readonly part: string; readonly volume: string }>;
  readonly boils: Paged<string>;
  readonly gatherings: Paged<string>;
  readonly members: readonly JarTraceMember[];
  readonly packs: Paged<JarTracePack>;
  readonly jars: readonly (readonly [string, string | number])[];
  readonly syrupNoun: string;
  readonly syrup: readonly (readonly [string, string])[];
  readonly code: string;
}

export const JarTracePage = ({
  title,
  here,
  pack,
  printed,
  jarState,
  status,
  n,
  sentence,
  across,
  down,
  went,
  maybe,
  takenOff,
  uncovered,
  shares,
  boils,
  gatherings,
  members,
  packs,
  jars,
  syrupNoun,
  syrup,
  code,
  page,
}: JarTracePageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href={`/lots/${pack}`}>← {pack}</a>
    </p>
    <div class="title">
      <h1 class="code">{printed}</h1>
      {jarState !== 'free' ? (
        <span class={`stamp ${jarState === 'recalled' ? 'recalled' : 'held'}`}>{jarState.toUpperCase()}</span>
      ) : (
        status === 'released' && <span class="stamp released">RELEASED</span>
      )}
    </div>
    <p class="now">
      Jar {n} of{' '}
      <a class="code" href={`/lots/${pack}`}>
        {pack}
      </a>
      . {sentence}
    </p>
    {jarState !== 'free' ? (
      <p class="why">
        {
          {
            recalled: 'Recalled: do not eat it.',
            held: 'Held: it may not leave.',
            destroyed:
              'The record says it was destroyed or poured back. If you have it, set it apart and correct the record.',
            returned:
              'It was returned and is set apart until somebody records whether it is sealed and how it was kept.',
          }[jarState]
        }
      </p>
    ) : (
      status === 'held' && <p>Other jars of its lot are held; this one is not.</p>
    )}
    {across && (
      <figure class="way">
        <div class="broad">
          <Drawing svg={across} />
        </div>
        <div class="narrow">
          <Drawing svg={down} />
        </div>
      </figure>
    )}
    {went.count > 0 && (
      <>
        <h2 id="went">This jar went</h2>
        <Dispatches {...went} />
      </>
    )}
    {maybe.count > 0 && (
      <>
        <h2 id="maybe">It may be among these</h2>
        <p class="soft">They were sent by count, not by code, so it is not known which jars they were.</p>
        <Dispatches {...maybe} />
      </>
    )}
    <TakenOff takenOff={takenOff} />
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
    {page.may('maker') && status !== 'recalled' && (
      <ul class="deeds">
        {status !== 'held' && (
          <li>
            <a class="quiet" href={`/lots/${pack}/hold`}>
              Hold the lot
            </a>
          </li>
        )}
        <li>
          <a class="quiet" href={`/lots/${pack}/recall`}>
            Recall the lot
          </a>
        </li>
      </ul>
    )}
    {page.may('maker') && (
      <p>
        <a class="quiet" href={`/returns/${printed}`}>
          This jar was returned bad
        </a>
      </p>
    )}
    <p>
      <a href={`/J/${code}`}>What a buyer sees</a>
    </p>
  </Layout>
);
