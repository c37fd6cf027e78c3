import type { LotState } from '#libs/records/entry.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

interface WhyLine {
  readonly text: string;
  readonly stateText: string;
  readonly asks: string;
  readonly state: 'met' | 'no-limit' | 'not-recorded' | 'accepted' | 'off-sale' | 'holds';
  readonly because: readonly string[];
  readonly notRecorded: readonly string[];
}

export interface WhyPageProps {
  readonly title: string;
  readonly here: string;
  readonly code: string;
  readonly state: LotState;
  readonly kind: 'pack' | 'boil';
  readonly lines: readonly WhyLine[];
  readonly signatures: readonly string[];
}

/** In the order in which a person acts on them: what holds the lot comes first, met rules last and folded. */
const groups = [
  { state: 'holds', heading: 'Holds it', count: (n: number) => `${n} ${n === 1 ? 'rule holds' : 'rules hold'} it` },
  { state: 'accepted', heading: 'Accepted at a release', count: (n: number) => `${n} accepted at a release` },
  { state: 'off-sale', heading: 'No jar left on sale', count: (n: number) => `${n} with no jar left on sale` },
  { state: 'not-recorded', heading: 'Not recorded', count: (n: number) => `${n} not recorded` },
  { state: 'no-limit', heading: 'No limit here', count: (n: number) => `${n} without a limit here` },
  { state: 'met', heading: 'Met', count: (n: number) => `${n} met` },
] as const;

/** Why a lot is in its state: each rule with the evidence for it or what is missing. */
export const WhyPage = ({ title, here, code, state, kind, lines, signatures, page }: WhyPageProps & PageProps) => {
  const parts = groups
    .map((group) => ({ ...group, lines: lines.filter((line) => line.state === group.state) }))
    .filter((group) => group.lines.length > 0);
  return (
    <Layout page={page} title={title} here={here} wide>
      <p class="crumb">
        <a href={`/lots/${code}`}>← {code}</a>
      </p>
      <h1>
        {state === 'open' ? 'Rules checked for' : 'Why is'} <span class="code">{code}</span>
        {state !== 'open' && ` ${state}?`}
      </h1>
      <p class="now">
        Rules that can hold a lot: {parts.map((group) => group.count(group.lines.length)).join(', ')}. Nothing is
        assumed.
      </p>
      {parts.map((group) => (
        <section>
          <h2>{group.heading}</h2>
          <ul class="findings rules side-by-side">
            {group.lines.map((line) => (
              <RuleLine line={line} />
            ))}
          </ul>
        </section>
      ))}
      <h2>Who {kind === 'boil' ? 'recorded' : 'filled'}, released and verified it</h2>
      <ul>
        {signatures.map((signature) => (
          <li>{signature}</li>
        ))}
      </ul>
    </Layout>
  );
};

const RuleLine = ({ line }: { readonly line: WhyLine }) => {
  const { state, text, stateText, asks, because, notRecorded } = line;
  const verdict = (
    <>
      <span class={`verdict ${state === 'holds' ? 'stops' : state === 'met' ? 'passes' : 'advice'}`}>{stateText}</span>{' '}
      {text}
    </>
  );
  const evidence = (
    <>
      <p class="soft">{asks}</p>
      {because.map((reason) => (
        <p>{reason}</p>
      ))}
      {notRecorded.length > 0 && <p>Not recorded: {notRecorded.join('; ')}</p>}
    </>
  );
  if (state === 'met')
    return (
      <li class="passes">
        <details>
          <summary>{verdict}</summary>
          {evidence}
        </details>
      </li>
    );
  return (
    <li class={state === 'holds' ? 'stop' : 'advice'}>
      <h3>{verdict}</h3>
      {evidence}
    </li>
  );
};
