/** A returned jar: what was said and seen, and the verdict. */
export interface Complaint {
  readonly id: string;
  readonly when: string;
  readonly by: string;
  readonly jar: string;
  readonly lot: string;
  readonly said: string;
  readonly seen: string;
  readonly done: string;
  readonly asks: 'destroy' | 'hold' | 'nothing';
}

export interface ComplaintListProps {
  readonly complaints: readonly Complaint[];
  /** Name each jar's lot: for jars of several lots. */
  readonly lots?: boolean;
}

/** Returned jars, newest first. */
export const ComplaintList = ({ complaints, lots }: ComplaintListProps) => (
  <ol class="entry-list">
    {complaints.map((complaint) => (
      <li>
        <span class="when">
          <b>{complaint.when}</b>
          {complaint.by}
        </span>
        <div class="what">
          <p>
            {lots && complaint.lot && (
              <>
                <a class="code" href={`/lots/${encodeURIComponent(complaint.lot)}`}>
                  {complaint.lot}
                </a>{' '}
              </>
            )}
            {complaint.jar && (
              <>
                <span class="code">{complaint.jar}</span>{' '}
              </>
            )}
            “{complaint.said}”
          </p>
          {complaint.seen && (
            <p>
              <b>{complaint.seen}</b>
              {complaint.asks !== 'nothing' && (
                <>
                  {' '}
                  <span class="verdict stops">{complaint.asks === 'destroy' ? 'DESTROY' : 'HOLD IT'}</span>
                </>
              )}
            </p>
          )}
          {complaint.done && <p class="soft">{complaint.done}</p>}
          <p class="small">
            <a class="act" href={`/records/complaint/${encodeURIComponent(complaint.id)}`}>
              {complaint.id}
            </a>
          </p>
        </div>
      </li>
    ))}
  </ol>
);
