import { More, type Paged } from './more.js';

export interface Dispatch {
  readonly when: string;
  readonly planned: boolean;
  readonly kind: string;
  readonly jars: string;
  readonly lot: string;
  readonly to: string;
  readonly contact: string;
  /** The first of the jars that it lists, and how many more. */
  readonly codes: readonly string[];
  readonly moreCodes: number;
}

export type DispatchesProps = Paged<Dispatch>;

/** Where jars went, one dispatch per line. */
export const Dispatches = ({ rows, ...rest }: DispatchesProps) => (
  <>
    <ol class="entry-list">
      {rows.map((row) => (
        <li>
          <span class="when">
            <b>{row.when}</b>
            {row.planned ? 'planned' : row.kind}
          </span>
          <div class="what">
            <p>
              <DispatchText {...row} />
              {row.contact && <>, {row.contact}</>}
            </p>
            {row.codes.length > 0 && (
              <p class="small code">
                {row.codes.map((code) => (
                  <>
                    <a href={`/jars/${code}`}>{code}</a>{' '}
                  </>
                ))}
                {row.moreCodes > 0 && <>and {row.moreCodes} more</>}
              </p>
            )}
          </div>
        </li>
      ))}
    </ol>
    <More {...rest} />
  </>
);

/** Broken, destroyed or kept jars go to nobody: what was written is where they are, or what happened. */
const toWhom = (kind: string, to: string): string =>
  kind === 'returned' ? `back from ${to}` : ['sale', 'gift', 'sample'].includes(kind) ? `to ${to}` : `(${to})`;

/** `12 of 26077A-1 to Millrace Green`, the lot as a link. */
export const DispatchText = ({ jars, lot, kind, to }: Pick<Dispatch, 'jars' | 'lot' | 'kind' | 'to'>) => (
  <>
    <b>{jars}</b> of{' '}
    <a class="code" href={`/lots/${lot}`}>
      {lot}
    </a>{' '}
    {toWhom(kind, to)}
  </>
);
