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
  readonly after:
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
  const { title, here, fields, after, suspect, kind, id, history, page } = props;
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
      {after?.initials && (
        <>
          <p class="why">Reported as already left while held. A maker must initial it.</p>
          {page.may('maker') && (
            <a class="main-action" href={after.initials}>
              Add my initials
            </a>
          )}
        </>
      )}
      {after?.initialled && (
        <p>
          Initialled by {after.initialled.by}, {after.initialled.at.slice(0, 16).replace('T', ' ')}
          {after.initialled.note ? ': ' + after.initialled.note : ''}
        </p>
      )}
      {after?.inspect && (
        <>
          <p class="why">Set apart until somebody has inspected them.</p>
          {page.may('helper') && (
            <a class="main-action" href={after.inspect}>
              Inspect them
            </a>
          )}
        </>
      )}
      {suspect && (
        <>
          <h2>Suspect lots</h2>
          <p class="why">{suspect.text}</p>
          {suspect.lots.count > 0 ? (
            <>
              <p>
                {suspect.lots.rows.map((lot) => (
                  <>
                    <a class="code" href={`/lots/${encodeURIComponent(lot)}`}>
                      {lot}
                    </a>{' '}
                  </>
                ))}
                {suspect.lots.summary && <>and {suspect.lots.count - suspect.lots.rows.length} more</>}
              </p>
              <p>
                <a class="quiet" href={suspect.recall}>
                  Where their jars are, and whether to recall them
                </a>
              </p>
            </>
          ) : (
            <p>No recorded reading names it in that time.</p>
          )}
        </>
      )}
      <div class="buttons">
        {page.may('maker') && page.mayWrite(kind) && (
          <a class="quiet" href={`/records/${kind}/${encodeURIComponent(id)}/correct`}>
            Correct
          </a>
        )}
        {props.addPhoto !== undefined && (
          <a class="quiet" href={props.addPhoto}>
            Add a photo
          </a>
        )}
      </div>
      <Photos photos={props.photos} addPhoto={undefined} />
      <h2>History</h2>
      <History page={page} history={history} />
    </Layout>
  );
};
