import type { LotState } from '#libs/records/entry.js';
import type { JarState } from '#libs/syrup/jars/jar-state.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { Dispatches, type DispatchesProps } from '../parts/dispatches.js';
import { Prerendered, type Rendered } from '../parts/drawing.js';
import { JarsOffSale, type JarsOffSaleProps } from '../parts/jars-off-sale.js';

export interface JarTracePageProps {
  readonly title: string;
  readonly here: string;
  readonly pack: string;
  readonly printed: string;
  readonly jarState: JarState;
  readonly status: LotState;
  /** The jars that no fill reading covers, in words. */
  readonly uncovered: string | undefined;
  readonly n: number;
  readonly sentence: string;
  readonly drawing: Rendered;
  /** What its lot came from and what became of it, the same for all of its jars. */
  readonly trace: Rendered;
  readonly dispatches: DispatchesProps;
  readonly possibleDispatches: DispatchesProps;
  readonly takenOff: JarsOffSaleProps['takenOff'];
  readonly code: string;
}

/** A jar for people who are signed in: its lot and where it went. */
export const JarTracePage = ({
  title,
  here,
  pack,
  printed,
  jarState,
  status,
  n,
  sentence,
  drawing,
  dispatches: went,
  possibleDispatches: maybe,
  takenOff,
  code,
  uncovered,
  trace,
  page,
}: JarTracePageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href={`/lots/${pack}`}>← {pack}</a>
    </p>
    <JarTitle printed={printed} jarState={jarState} status={status} />
    <p class="now">
      Jar {n} of{' '}
      <a class="code" href={`/lots/${pack}`}>
        {pack}
      </a>
      . {sentence}
    </p>
    <JarAdvice jarState={jarState} status={status} />
    <Prerendered part={drawing} page={page} />
    {went.count > 0 && (
      <>
        <h2 id="went">Where this jar went</h2>
        <Dispatches {...went} />
      </>
    )}
    {maybe.count > 0 && (
      <>
        <h2 id="maybe">It may be among these</h2>
        <p class="soft">These jars were sent out by count, not by code, so it is not known which jars they were.</p>
        <Dispatches {...maybe} />
      </>
    )}
    <JarsOffSale takenOff={takenOff} />
    {uncovered && <p class="small">{uncovered}</p>}
    <Prerendered part={trace} page={page} />
    {page.may('maker') && <JarActions pack={pack} printed={printed} status={status} />}
    <p>
      <a href={`/J/${code}`}>What a buyer sees</a>
    </p>
  </Layout>
);

const JarTitle = ({ printed, jarState, status }: Pick<JarTracePageProps, 'printed' | 'jarState' | 'status'>) => (
  <div class="title">
    <h1 class="code">{printed}</h1>
    {jarState !== 'free' ? (
      <span class={`stamp ${jarState === 'recalled' ? 'recalled' : 'held'}`}>
        {jarState === 'unsealed' ? 'SEAL FAILED' : jarState.toUpperCase()}
      </span>
    ) : (
      status === 'released' && <span class="stamp released">RELEASED</span>
    )}
  </div>
);

/** What to do with a jar that is not free to go out. */
const JarAdvice = ({ jarState, status }: Pick<JarTracePageProps, 'jarState' | 'status'>) => {
  if (jarState !== 'free') return <p class="why">{jarAdvice[jarState]}</p>;
  return status === 'held' ? <p>Other jars of its lot are held; this one is not.</p> : null;
};
const jarAdvice: Readonly<Record<Exclude<JarState, 'free'>, string>> = {
  recalled: 'Recalled: do not eat it.',
  held: 'Held: do not send it out.',
  destroyed: 'It is recorded as destroyed or poured back. If you have it, set it apart and correct the record.',
  unsealed: 'By the records its seal failed: do not sell it or give it away. Record it as destroyed, or as kept.',
  returned: 'It was returned and is set apart until somebody records whether it is sealed and how it was kept.',
};

const JarActions = ({ pack, printed, status }: Pick<JarTracePageProps, 'pack' | 'printed' | 'status'>) => (
  <>
    {status !== 'recalled' && (
      <ul class="buttons">
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
    <p>
      <a class="quiet" href={`/returns/${printed}`}>
        A customer returned this jar as bad
      </a>
    </p>
  </>
);
