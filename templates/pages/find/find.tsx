import type { LotState } from '#libs/records/entry.js';
import type { LotKind } from '#libs/records/record-types.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { CodeSearch } from '../parts/code-search.js';
import { StatusStamp } from '../parts/status-stamp.js';
import { type MatchExcerpt, MatchExcerpts } from './match-excerpts.js';

interface FindRecord {
  readonly href: string;
  readonly noun: string;
  readonly id: string;
  readonly details: string;
  readonly when: string;
  readonly matches: readonly MatchExcerpt[];
}

interface FindLot {
  readonly code: string;
  readonly state: LotState;
  readonly kind: LotKind;
  readonly when: string;
  readonly container: string;
  readonly matches: readonly MatchExcerpt[];
}

export interface FindPageProps {
  readonly title: string;
  readonly here: string;
  readonly typed: string;
  readonly nothingFound: boolean;
  readonly lots: readonly FindLot[];
  /** Jars whose code begins with what was typed. */
  readonly jars: readonly { readonly code: string; readonly n: number; readonly pack: string }[];
  readonly records: readonly FindRecord[];
}

/** The results: lots, jars and records, each with the reason it was found. */
export const FindPage = ({
  title,
  here,
  typed,
  nothingFound,
  lots,
  jars,
  records,
  page,
}: FindPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>Find</h1>
    <CodeSearch
      camera={page.isPrivateConnection}
      action="/find"
      label="A code or part of one, a date, a buyer, words of a note"
      hint={
        <>
          For example, <span class="code whole">K7QM-3XWT</span>, <span class="code whole">26077A</span>, 12 Mar, last
          week, Millrace Green
        </>
      }
      typed={typed}
      submitLabel="Find"
    />
    {nothingFound && (
      <p class="now">
        Nothing found for <b>{typed}</b>. A jar code has eight letters and digits; check it against the label. Dates can
        be written as 12 Mar, April or last week.
      </p>
    )}
    <div class="side-by-side">
      {lots.length > 0 && <Lots lots={lots} />}
      {jars.length > 0 && <Jars jars={jars} />}
      {records.length > 0 && <Records records={records} />}
    </div>
    <ul class="buttons">
      {page.may('maker') && (
        <li>
          <a class="quiet" href="/returns">
            A customer returns a bad jar
          </a>
        </li>
      )}
      <li>
        <a class="quiet" href="/recall">
          Recall by lot, day or thermometer
        </a>
      </li>
    </ul>
  </Layout>
);

const Lots = ({ lots }: Pick<FindPageProps, 'lots'>) => (
  <section>
    <h2>Lots</h2>
    <ul class="lots">
      {lots.map((lot) => (
        <li>
          <a class="row two" href={`/lots/${encodeURIComponent(lot.code)}`}>
            <span class="code">{lot.code}</span>
            <span class="beside">
              <StatusStamp status={lot.state} />
            </span>
            <span class="soft day">{lot.when}</span>
            <span class="grow">
              {lot.kind} {lot.container}
              <MatchExcerpts matches={lot.matches} />
            </span>
          </a>
        </li>
      ))}
    </ul>
  </section>
);

const Jars = ({ jars }: Pick<FindPageProps, 'jars'>) => (
  <section>
    <h2>Jars</h2>
    <ul class="lots">
      {jars.map((jar) => (
        <li>
          <a class="row two" href={`/jars/${jar.code}`}>
            <span class="code">{jar.code}</span>
            <span class="beside" />
            <span class="soft day">jar {jar.n}</span>
            <span class="grow">
              of {jar.pack} <span class="because soft small">jar code starts with this</span>
            </span>
          </a>
        </li>
      ))}
    </ul>
  </section>
);

const Records = ({ records }: Pick<FindPageProps, 'records'>) => (
  <section>
    <h2>Records</h2>
    <ul class="lots">
      {records.map((record) => (
        <li>
          <a class="row two" href={record.href}>
            <span class="code">{record.id}</span>
            <span class="beside" />
            <span class="soft day">{record.when}</span>
            <span class="grow">
              {[record.noun, record.details].filter(Boolean).join(': ')}
              <MatchExcerpts matches={record.matches} />
            </span>
          </a>
        </li>
      ))}
    </ul>
  </section>
);
