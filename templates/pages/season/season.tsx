import { Layout } from '../layout.js';
import { count } from '../backups/count.js';
import type { PageProps } from '../page-context.js';
import { ComplaintList, type Complaint } from '../parts/complaint-list.js';
import { Readings, type ReadingView } from '../parts/readings.js';
import { CloseSeason, type CloseSeasonProps } from './close-season.js';
import { SeasonLots, type SeasonLotsProps } from './season-lots.js';

interface SeasonMockRecall {
  readonly when: string;
  readonly by: string;
  readonly lot: string;
  readonly text: string;
  readonly took: string;
}

interface SeasonRisk {
  readonly answer: { readonly href: string; readonly label: string };
  readonly of: string;
  readonly recorded: string;
  readonly asks: string;
}

export interface SeasonPageProps extends Omit<CloseSeasonProps, 'page'>, SeasonLotsProps {
  readonly title: string;
  readonly here: string;
  readonly years: readonly number[];
  readonly totals: readonly ReadingView[];
  readonly risks: readonly SeasonRisk[];
  readonly complaints: readonly Complaint[];
  readonly mockRecalls: readonly SeasonMockRecall[];
  readonly record: { readonly entries: number; readonly root: string };
}

const summaryFiles = [
  ['xlsx', 'Sheet, XLSX'],
  ['csv', 'CSV'],
  ['json', 'JSON'],
  ['jsonld', 'Events, EPCIS 2.0 (JSON-LD)'],
] as const;

/** A season: its documents, its lots, its open questions, and how to close it. */
export const SeasonPage = ({ page, ...props }: SeasonPageProps & PageProps) => {
  const { years, closed, lots, risks, mockRecalls, record } = props;
  return (
    <Layout page={page} title={props.title} here={props.here} wide>
      <h1>Season {props.year}</h1>
      {years.length > 1 && <OtherYears years={years} year={props.year} />}
      {closed && (
        <p>
          <span class="stamp released">CLOSED</span> signed {closed.by}, {closed.when}.{' '}
          {closed.isChanged && <b>{closed.notSigned}</b>}
        </p>
      )}
      <p>
        <a class="main-action" href={`/api/seasons/${props.year}/summary.pdf`} download>
          The yearly summary, PDF
        </a>{' '}
        <a class="act" href={`/api/seasons/${props.year}/summary.pdf?paper=a4`} download>
          on A4 paper
        </a>
      </p>
      <FindJar />
      <Readings readings={props.totals} />
      <h2>For the inspector</h2>
      <p>
        <a href="/calculators/what-applies">What applies to me?</a> Offices to ask, licences, thresholds.
      </p>
      <SummaryFiles year={props.year} />
      {lots.length > 0 ? (
        <SeasonLots lots={lots} moreLots={props.moreLots} />
      ) : (
        <p class="now">Nothing packed this year yet.</p>
      )}
      {risks.length > 0 && <Risks risks={risks} page={page} />}
      {props.complaints.length > 0 && (
        <>
          <h2>Returned jars and complaints</h2>
          <ComplaintList complaints={props.complaints} lots />
        </>
      )}
      {mockRecalls.length > 0 && <MockRecalls held={mockRecalls} />}
      <CloseSeason {...props} page={page} />
      <p class="soft small">
        Record: {count(record.entries)}, root <code>{record.root}</code>
      </p>
    </Layout>
  );
};

const OtherYears = ({ years, year: shown }: Pick<SeasonPageProps, 'years' | 'year'>) => (
  <p>
    Others:{' '}
    {years
      .filter((year) => year !== shown)
      .map((year) => (
        <>
          <a href={`/season/${year}`}>{year}</a> &ensp;
        </>
      ))}
  </p>
);

const FindJar = () => (
  <form method="get" action="/find" role="search">
    <div class="field">
      <label for="f-jar">Find a jar or a lot</label>
      <span class="hint" id="f-jar-hint">
        The code on the jar, for example <span class="code whole">K7QM-3XWT</span> or{' '}
        <span class="code whole">26077A-1</span>
      </span>
      <input id="f-jar" name="q" class="brief" autocomplete="off" autocapitalize="off" aria-describedby="f-jar-hint" />
    </div>
    <button class="quiet">Find</button>
  </form>
);

/** The summary in the other file formats, and its pictures. */
const SummaryFiles = ({ year }: Pick<SeasonPageProps, 'year'>) => (
  <ul class="buttons">
    {summaryFiles.map(([end, label]) => (
      <li>
        <a class="quiet" href={`/api/seasons/${year}/summary.${end}`} download>
          {label}
        </a>
      </li>
    ))}
    <li>
      <a class="quiet" href={`/season/${year}/pictures`}>
        Pictures
      </a>
    </li>
  </ul>
);

/** What an inspector may ask about, each with the record that answers it. */
const Risks = ({ risks, page }: Pick<SeasonPageProps, 'risks'> & PageProps) => (
  <>
    <h2>To ask about</h2>
    <ul>
      {risks.map((risk) => (
        <li>
          <b>{risk.of}</b>: {risk.recorded}; {risk.asks}.
          {page.may('maker') && (
            <>
              {' '}
              <a class="act" href={risk.answer.href}>
                {risk.answer.label}
                <span class="unseen">: {risk.of}</span>
              </a>
            </>
          )}
        </li>
      ))}
    </ul>
  </>
);

const MockRecalls = ({ held }: { readonly held: readonly SeasonMockRecall[] }) => (
  <>
    <h2>Mock recalls</h2>
    <ol class="entry-list">
      {held.map((exercise) => (
        <li>
          <span class="when">
            <b>{exercise.when}</b>
            {exercise.by}
          </span>
          <div class="what">
            <p>
              <a class="code" href={`/lots/${encodeURIComponent(exercise.lot)}`}>
                {exercise.lot}
              </a>{' '}
              <b>{exercise.took}</b> {exercise.text}
            </p>
          </div>
        </li>
      ))}
    </ol>
  </>
);
