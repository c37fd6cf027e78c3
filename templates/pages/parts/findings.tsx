import type { Finding } from '#libs/syrup/rules/verdict.js';
import type { PageProps } from '../page-context.js';

/** A finding that one tap answers: the form for it. */
export interface Tap {
  readonly action: string;
  readonly fields: Readonly<Record<string, string>>;
  readonly text: string;
  /** A number that keeps its form apart from others of the page. */
  readonly nth: number;
}

export interface FindingView extends Pick<Finding, 'rule' | 'stop' | 'limit' | 'found' | 'source'> {
  readonly text: string;
  /** What may be done about it; never that it is safe. */
  readonly mayDo: string;
  readonly taps?: readonly Tap[];
  /** Pages where it is dealt with. */
  readonly links?: readonly { readonly href: string; readonly text: string }[];
}

export interface FindingsProps extends PageProps {
  readonly findings: readonly FindingView[];
}

/** The findings on a lot: hold rules shown, advisories folded away. */
export const Findings = ({ findings, page }: FindingsProps) => {
  const stops = findings.filter((finding) => finding.stop);
  const advice = findings.filter((finding) => !finding.stop);
  return (
    <>
      {stops.length > 0 && <FindingList findings={stops} page={page} />}
      {advice.length > 0 && (
        <details class="more">
          <summary>{advice.length === 1 ? 'One advisory' : `${advice.length} advisories`}</summary>
          <FindingList findings={advice} page={page} />
        </details>
      )}
    </>
  );
};

export interface FoldedFindingsProps extends FindingsProps {
  readonly state: string;
}

/** The same, folded; unfolded while a held lot still needs an answer. */
export const FoldedFindings = ({ findings, state, page }: FoldedFindingsProps) => {
  if (findings.length === 0) return null;
  const stops = findings.filter((finding) => finding.stop);
  const advice = findings.length - stops.length;
  const needsAnswer = state === 'held' && (stops.length > 1 || stops.some(({ taps = [] }) => taps.length > 0));
  return (
    <details class="more" id="findings" open={needsAnswer}>
      <summary>
        <h2>
          Findings: {stops.length} {stops.length === 1 ? 'hold' : 'holds'}, {advice}{' '}
          {advice === 1 ? 'advisory' : 'advisories'}
        </h2>
      </summary>
      {stops.length === 0 ? (
        <FindingList findings={findings} page={page} />
      ) : (
        <Findings page={page} findings={findings} />
      )}
    </details>
  );
};

const FindingList = ({ findings, page }: FindingsProps) => (
  <ul class="findings">
    {findings.map((finding) => (
      <li class={finding.stop ? 'stop' : 'advice'}>
        <h3>
          <span class={`verdict ${finding.stop ? 'stops' : 'advice'}`}>{finding.stop ? 'HOLD' : 'advisory'}</span>{' '}
          {finding.text}
        </h3>
        <dl>
          <dt>Found</dt>
          <dd>
            <b>{finding.found}</b>
          </dd>
          <dt>Required</dt>
          <dd>{finding.limit}</dd>
        </dl>
        {finding.taps && finding.taps.length > 0 && page.may('helper') && (
          <Taps rule={finding.rule} taps={finding.taps} page={page} />
        )}
        {finding.links && finding.links.length > 0 && (
          <p class="buttons">
            {finding.links.map(({ href, text }) => (
              <a class="act quiet" href={href}>
                {text}
              </a>
            ))}
          </p>
        )}
        <details>
          <summary>Source{finding.mayDo && '; what may be done'}</summary>
          <dl>
            <dt>From</dt>
            <dd>{finding.source}</dd>
            {finding.mayDo && (
              <>
                <dt>What may be done</dt>
                <dd>{finding.mayDo}</dd>
              </>
            )}
          </dl>
        </details>
      </li>
    ))}
  </ul>
);

const Taps = ({ rule, taps, page }: PageProps & { readonly rule: string; readonly taps: readonly Tap[] }) => (
  <div class="buttons">
    {taps.map((tap, n) => (
      <form method="post" action={tap.action} class="taps">
        <input type="hidden" name="_once" value={`${page.once}-${rule}-${n}-${tap.nth}`} />
        {Object.entries(tap.fields).map(([name, value]) => (
          <input type="hidden" name={name} value={value} />
        ))}
        <button class="quiet">{tap.text}</button>
      </form>
    ))}
  </div>
);
