import type { LotState } from '#libs/records/entry.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { Dispatches, type DispatchesProps } from '../parts/dispatches.js';
import { Prerendered, type Rendered } from '../parts/drawing.js';
import { More, type Paged } from '../parts/more.js';
import { StatusStamp } from '../parts/status-stamp.js';
import { JarsOffSale, type JarsOffSaleProps } from '../parts/jars-off-sale.js';
import { Trace, type TraceProps } from '../parts/trace.js';

interface TracedJar {
  readonly code: string;
  readonly pack: string;
  readonly n: number;
  readonly where: string;
}

export interface TracePageProps extends TraceProps {
  readonly title: string;
  readonly here: string;
  readonly code: string;
  readonly status: LotState;
  /** The jars that no fill reading covers, in words. */
  readonly uncovered: string | undefined;
  readonly drawing: Rendered;
  readonly dispatches: DispatchesProps;
  readonly takenOff: JarsOffSaleProps['takenOff'];
  readonly jarRows: Paged<TracedJar>;
  readonly drawingText: string;
}

/** A jar or lot traced back to its sap and on to its buyers. */
export const TracePage = ({
  title,
  here,
  code,
  status,
  uncovered,
  drawing,
  dispatches: went,
  takenOff,
  jarRows: every,
  drawingText: wayText,
  page,
  ...trace
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
    <Prerendered part={drawing} page={page} />
    {uncovered && <p class="small">{uncovered}</p>}
    <Trace {...trace} />
    {went.count > 0 && (
      <>
        <h2 id="went">Went to</h2>
        <Dispatches {...went} />
      </>
    )}
    <JarsOffSale takenOff={takenOff} />
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
      <p>{wayText}</p>
    </details>
    <p>
      <a class="quiet" href={`/lots/${encodeURIComponent(code)}/recall.pdf`}>
        Recall list, PDF: who has it, whom to call
      </a>
    </p>
  </Layout>
);
