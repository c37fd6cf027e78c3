import type { LotState } from '#libs/records/entry.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

interface WhyLine {
  readonly text: string;
  readonly stateText: string;
  readonly asks: string;
  readonly state: 'met' | 'not-recorded' | 'accepted' | 'holds';
  readonly because: readonly string[];
  readonly notRecorded: readonly string[];
}

export interface WhyPageProps {
  readonly title: string;
  readonly here: string;
  readonly code: string;
  readonly state: LotState;
  readonly lines: readonly WhyLine[];
  readonly signatures: readonly string[];
}

/** Why a lot is in its state: each rule with what satisfied it or what is missing. */
export const WhyPage = ({ title, here, code, state, lines, signatures, page }: WhyPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href={`/lots/${code}`}>← {code}</a>
    </p>
    <h1>
      Why is <span class="code">{code}</span> {state}?
    </h1>
    <p class="now">Every rule that can hold a lot, and what was recorded for it. Nothing is assumed.</p>
    <ul class="findings">
      {lines.map((line) => (
        <li class={line.state === 'holds' ? 'stop' : 'advice'}>
          <h2>
            <span class={`verdict ${line.state === 'holds' ? 'stops' : line.state === 'met' ? 'passes' : 'advice'}`}>
              {line.stateText}
            </span>{' '}
            {line.text}
          </h2>
          <p class="soft">{line.asks}</p>
          {line.because.map((reason) => (
            <p>{reason}</p>
          ))}
          {line.notRecorded.length > 0 && <p>Not recorded: {line.notRecorded.join('; ')}</p>}
        </li>
      ))}
    </ul>
    <h2>Who filled, released and verified it</h2>
    <ul>
      {signatures.map((signature) => (
        <li>{signature}</li>
      ))}
    </ul>
  </Layout>
);
