import type { AcknowledgementBody } from '#libs/records/kinds/acknowledgement.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { type PhotoRow, Photos } from '../photos/photo-list.js';
import { History, type HistoryLine } from '../parts/history.js';
import type { Paged } from '../parts/more.js';

export interface RecordPageProps {
  readonly title: string;
  readonly here: string;
  readonly back: { readonly href: string; readonly text: string };
  readonly fields: readonly { readonly label: string; readonly typed: string }[];
  readonly followUp:
    | {
        readonly initials: string | undefined;
        readonly initialled: AcknowledgementBody | undefined;
        readonly inspect: string | undefined;
      }
    | undefined;
  readonly suspect: { readonly text: string; readonly lots: Paged<string>; readonly recall: string } | undefined;
  readonly kind: RecordKind;
  readonly id: string;
  readonly history: readonly HistoryLine[];
  readonly photos: readonly PhotoRow[];
  readonly addPhoto: string | undefined;
}

/** A record with its history and its next steps. */
export const RecordPage = (props: RecordPageProps & PageProps) => {
  const { title, here, fields, followUp, suspect, history, page } = props;
  return (
    <Layout page={page} title={title} here={here}>
      <p class="crumb">
        <a href={props.back.href}>← {props.back.text}</a>
      </p>
      <h1>{title}</h1>
      <dl class="facts">
        {fields.map((field) => (
          <>
            <dt>{field.label}</dt>
            <dd>
              <b>{field.typed}</b>
            </dd>
          </>
        ))}
      </dl>
      {followUp && <FollowUp {...followUp} page={page} />}
      {suspect && <SuspectLots {...suspect} />}
      <RecordButtons {...props} />
      <Photos photos={props.photos} addPhoto={undefined} />
      <h2>History</h2>
      <History page={page} history={history} />
    </Layout>
  );
};

/** What a dispatch still needs: a maker’s initials, or an inspection of the jars that were returned. */
const FollowUp = ({ initials, initialled, inspect, page }: NonNullable<RecordPageProps['followUp']> & PageProps) => (
  <>
    {initials && (
      <>
        <p class="why">Reported as already left while held. A maker must initial it.</p>
        {page.may('maker') && (
          <a class="main-action" href={initials}>
            Add my initials
          </a>
        )}
      </>
    )}
    {initialled && (
      <p>
        Initialled by {initialled.by}, {initialled.at.slice(0, 16).replace('T', ' ')}
        {initialled.note ? ': ' + initialled.note : ''}
      </p>
    )}
    {inspect && (
      <>
        <p class="why">Set apart until somebody has inspected them.</p>
        {page.may('helper') && (
          <a class="main-action" href={inspect}>
            Inspect them
          </a>
        )}
      </>
    )}
  </>
);

/** The lots with readings by an instrument that a check found wrong. */
const SuspectLots = ({ text, lots, recall }: NonNullable<RecordPageProps['suspect']>) => (
  <>
    <h2>Suspect lots</h2>
    <p class="why">{text}</p>
    {lots.count > 0 ? (
      <>
        <p>
          {lots.rows.map((lot) => (
            <>
              <a class="code" href={`/lots/${encodeURIComponent(lot)}`}>
                {lot}
              </a>{' '}
            </>
          ))}
          {lots.summary && <>and {lots.count - lots.rows.length} more</>}
        </p>
        <p>
          <a class="quiet" href={recall}>
            Where their jars are, and whether to recall them
          </a>
        </p>
      </>
    ) : (
      <p>No reading recorded in that period names this instrument.</p>
    )}
  </>
);

const RecordButtons = ({ kind, id, addPhoto, page }: RecordPageProps & PageProps) => (
  <div class="buttons">
    {page.may('maker') && page.mayWrite(kind) && (
      <a class="quiet" href={`/records/${kind}/${encodeURIComponent(id)}/correct`}>
        Correct
      </a>
    )}
    {addPhoto !== undefined && (
      <a class="quiet" href={addPhoto}>
        Add a photo
      </a>
    )}
  </div>
);
