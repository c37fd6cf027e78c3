import type { LotState } from '#libs/records/entry.js';
import type { ReturnedJarJudged } from '#libs/syrup/contents/judge-complaint.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { Cautions, type Caution } from '../parts/cautions.js';
import { Consequences } from '../parts/consequences.js';
import { Form, type FormView } from '../parts/form.js';
import { StatusStamp } from '../parts/status-stamp.js';

interface RetainedReturn {
  readonly where: string;
  readonly jars: string;
  readonly when: string;
  readonly codes: readonly string[];
}

export interface ReturnPageProps {
  readonly title: string;
  readonly here: string;
  readonly href: string;
  readonly named: string;
  readonly status: LotState;
  readonly pack: string;
  readonly made: string;
  readonly sentOut: number;
  readonly packedAt: string;
  readonly retained: readonly RetainedReturn[];
  readonly cautions: readonly Caution[];
  readonly judged: ReturnedJarJudged | undefined;
  readonly form: FormView;
}

/** A returned jar: what was observed, and what it means for its lot. */
export const ReturnPage = ({
  title,
  here,
  href,
  named,
  status,
  pack,
  made,
  sentOut,
  packedAt,
  retained,
  cautions,
  judged: says,
  form,
  page,
}: ReturnPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href={href}>← {named}</a>
    </p>
    <div class="title">
      <h1>
        <span class="code">{named}</span> was returned
      </h1>
      <StatusStamp status={status} />
    </div>
    <p class="now">
      Of{' '}
      <a class="code" href={`/lots/${pack}`}>
        {pack}
      </a>
      : {made} made, {sentOut} sent out.
      {packedAt && (
        <>
          {' '}
          Density when packed: <b>{packedAt}</b>.
        </>
      )}
    </p>
    <p>
      <a class="act" href={`/recall?lot=${encodeURIComponent(pack)}`}>
        Where the other jars are, and whom to call
      </a>
    </p>
    <h2>Retained sample, to compare</h2>
    {retained.length > 0 ? (
      <ul>
        {retained.map((jar) => (
          <li>
            <b>{jar.where}</b>: {jar.jars}
            {jar.codes.map((code) => (
              <>
                {' '}
                <a class="code" href={`/jars/${code}`}>
                  {code}
                </a>
              </>
            ))}
            , since {jar.when}
          </li>
        ))}
      </ul>
    ) : (
      <p>No sample of this lot was retained. Take a jar from the shelf to compare.</p>
    )}
    <Cautions cautions={cautions} />
    {says && (
      <>
        <h2 id="says">What the readings mean</h2>
        {says.consequences.length > 0 ? (
          <Consequences consequences={says.consequences} />
        ) : (
          <p>No findings from these readings.</p>
        )}
      </>
    )}
    {page.may('maker') && <Form page={page} {...form} />}
  </Layout>
);
