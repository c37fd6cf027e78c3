import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { Cautions, type Caution } from '../parts/cautions.js';
import { HydrometerQuestion } from '../parts/hydrometer-question.js';
import { Phones, type PhonesProps } from '../parts/phones.js';

interface TodayRow {
  readonly code: string;
  readonly href: string;
  readonly sentence: string;
  readonly next?: { readonly href: string; readonly text: string };
  /** Something that isn't recorded, and the form that adds it. */
  readonly missing?: { readonly text: string; readonly href: string; readonly linkText: string };
  readonly state?: string;
  readonly since?: string;
}

interface TodayGroup {
  readonly title: string;
  readonly rows: readonly TodayRow[];
  /** Rows that can wait, folded away. */
  readonly folded: readonly TodayRow[];
  /** The number of rows not shown. */
  readonly more: number;
  /** It comes below the buttons that start a day's work. */
  readonly waits: boolean;
}

export interface TodayPageProps {
  readonly title: string;
  readonly here: string;
  readonly day: string;
  readonly damage: string | undefined;
  readonly empty: boolean;
  readonly groups: readonly TodayGroup[];
  /** Instruments in use whose last check failed. */
  readonly failedInstruments: readonly {
    readonly sentence: string;
    readonly href: string;
    readonly checkAgain: string;
  }[];
  readonly thermometerDue: boolean;
  /** A density was read, and nobody answered what is printed on the hydrometer. */
  readonly asksHydrometer: boolean;
  readonly cautions: readonly Caution[];
  readonly phones: PhonesProps['phones'];
}

/** Work in progress, lots that wait for somebody, and reminders. */
export const TodayPage = ({
  title,
  here,
  day,
  damage,
  empty,
  groups,
  failedInstruments,
  thermometerDue,
  asksHydrometer,
  cautions,
  phones,
  page,
}: TodayPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>
      Today <span class="soft">{day}</span>
    </h1>
    {damage && (
      <p class="why" role="alert">
        {damage}
      </p>
    )}
    {damage && page.may('owner') && (
      <p>
        <a class="main-action" href="/backups">
          Look at the backups
        </a>
      </p>
    )}
    {empty ? (
      <>
        <p class="now">Nothing in progress. Record the sap you gathered, then start a boil.</p>
        {page.may('helper') && (
          <a class="main-action" href="/sap/gather">
            Gather sap
          </a>
        )}
      </>
    ) : (
      groups.length === 0 && <p class="now">Nothing to do.</p>
    )}
    <div class="side-by-side">
      {groups
        .filter(({ waits }) => !waits)
        .map((group) => (
          <Group group={group} page={page} />
        ))}
    </div>
    {failedInstruments.map(({ sentence, href, checkAgain }) => (
      <div class="why">
        <p>{sentence}</p>
        {page.may('helper') && (
          <a class="quiet" href={checkAgain}>
            Check it
          </a>
        )}{' '}
        <a href={href}>Lots read with it before</a>
      </div>
    ))}
    {thermometerDue && (
      <div class="why">
        <p>No thermometer has been checked this season.</p>
        {page.may('helper') && (
          <a class="quiet" href="/supporting-records/checks/new?how=ice">
            Ice check
          </a>
        )}
      </div>
    )}
    {asksHydrometer && page.may('owner') && <HydrometerQuestion page={page} />}
    {page.may('helper') && <Begin page={page} thermometerDue={thermometerDue} sapFirst={empty} />}
    {page.may('helper') && (
      <p>
        <a href="/calculators/what-applies">What applies to me?</a>
      </p>
    )}
    <div class="side-by-side">
      {groups
        .filter(({ waits }) => waits)
        .map((group) => (
          <Group group={group} page={page} />
        ))}
    </div>
    <Cautions cautions={cautions} />
    <Phones phones={phones} />
  </Layout>
);

const Group = ({ group, page }: PageProps & { readonly group: TodayGroup }) => (
  <section>
    <h2>{group.title}</h2>
    <Rows rows={group.rows} page={page} underway={underway.includes(group.title)} />
    {group.folded.length > 0 && (
      <details class="more">
        <summary>{group.folded.length} more</summary>
        <Rows rows={group.folded} page={page} />
      </details>
    )}
    {group.more > 0 && <p class="soft">and {group.more.toLocaleString('en')} more</p>}
  </section>
);

/** The buttons that start a day's work, within reach however much is waiting. */
interface BeginProps extends Pick<TodayPageProps, 'thermometerDue'> {
  /** In an empty book the first thing to do is the strong button above. */
  readonly sapFirst: boolean;
}

const Begin = ({ thermometerDue, sapFirst, page }: PageProps & BeginProps) => (
  <ul class="log-buttons" aria-label="Begin">
    {!sapFirst && (
      <li>
        <a class="quiet" href="/sap/gather">
          Gather sap
        </a>
      </li>
    )}
    <li>
      <a class="quiet" href="/boils/begin">
        Start a boil
      </a>
    </li>
    <li>
      <a class="quiet" href="/packs/begin">
        Start a pack
      </a>
    </li>
    {page.mayWrite('dispatch') && (
      <li>
        <a class="quiet" href="/dispatches/new">
          Send out
        </a>
      </li>
    )}
    {!thermometerDue && (
      <li>
        <a class="quiet" href="/supporting-records/checks/new?how=ice">
          Ice check
        </a>
      </li>
    )}
    <li>
      <a class="quiet" href="/calculators">
        Calculators
      </a>
    </li>
  </ul>
);

/** Their quick forms are cached on the device, so that they open offline. */
const underway = ['Boiling now', 'Being packed'];

interface RowsProps extends PageProps {
  readonly rows: readonly TodayRow[];
  readonly underway?: boolean;
}

const Rows = ({ rows, underway, page }: RowsProps) => (
  <ul class="lots">
    {rows.map((row) => (
      <li>
        <a class="row two" href={row.href} data-underway={underway ? '' : undefined}>
          <span class="code">{row.code}</span>
          <span class="beside">
            {row.state && <span class={`stamp small ${row.state}`}>{row.state.toUpperCase()}</span>}
          </span>
          <span class="grow" data-since={row.since ? row.since : undefined}>
            {row.sentence}
          </span>
        </a>
        {row.missing && (
          <p>
            {row.missing.text} {page.may('helper') && <a href={row.missing.href}>{row.missing.linkText}</a>}
          </p>
        )}
        {row.next && page.may('helper') && (
          <a class="quiet next" href={row.next.href}>
            {row.next.text}
          </a>
        )}
      </li>
    ))}
  </ul>
);
