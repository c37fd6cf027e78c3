import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { count } from './count.js';

export interface BackupRow {
  readonly name: string;
  readonly madeAt: string;
  readonly why: 'nightly' | 'before-update' | 'kept-at-restore';
  readonly size: string;
  readonly checked: { readonly entries: number; readonly root: string } | { readonly damage: string };
}

export interface BackupListProps {
  /** Undefined where the open book is in PostgreSQL or is the practice book. */
  readonly backupFolder:
    | {
        readonly folder: string;
        /** How many nightly backups are kept. */
        readonly nightlyKept: number;
        /** The open book; undefined where its file is too damaged to be read. */
        readonly book: { readonly entries: number; readonly root: string } | undefined;
        readonly damage: string | undefined;
        readonly free: string | undefined;
        readonly isLow: boolean;
        /** The outcome of the last restore. */
        readonly outcome: string | undefined;
        readonly backups: readonly BackupRow[];
      }
    | undefined;
}

const whyText: Readonly<Record<BackupRow['why'], string>> = {
  nightly: 'made at night',
  'before-update': 'made before an update',
  'kept-at-restore': 'kept when a backup was restored',
};

/** The backups of the book, each checked, with a link to restore it. */
export const BackupListPage = ({ page, backupFolder }: BackupListProps & PageProps) => (
  <Layout page={page} title="Backups">
    <p class="crumb">
      <a href="/files">← Files</a>
    </p>
    <h1>Backups</h1>
    {backupFolder ? <BackupFolder page={page} folder={backupFolder} /> : <NoBackups />}
  </Layout>
);

const NoBackups = () => (
  <p class="now">
    This book has no backups here. A book in PostgreSQL is backed up by <span class="code">book backup FILE</span> and
    by the database’s own tools; the practice book is not kept.
  </p>
);

const BackupFolder = ({
  page,
  folder,
}: PageProps & { readonly folder: NonNullable<BackupListProps['backupFolder']> }) => (
  <>
    {folder.outcome !== undefined && (
      <p class="now" role="status">
        {folder.outcome}
      </p>
    )}
    {folder.damage !== undefined && (
      <div class="why" role="alert">
        <p>{folder.damage}</p>
        <p>
          Enter nothing more. Restore the newest backup below that is marked <b>verified</b>. The damaged file is kept,
          and what was written after the backup can be typed again from paper or from the lists of entries.
        </p>
      </div>
    )}
    {folder.isLow && (
      <p class="caution" role="alert">
        <b>The disk is nearly full: {folder.free} left.</b> A full disk saves no entry and makes no backup. Empty the
        machine’s bin, move films and photos elsewhere, or copy old backups to a stick and delete them here. Leave the
        book’s own folder alone.
      </p>
    )}
    {folder.book && (
      <p class="now">
        Today’s book has {count(folder.book.entries)}. Its root begins{' '}
        <span class="code">{folder.book.root.slice(0, 12)}</span>.
      </p>
    )}
    <p>
      {folder.nightlyKept > 0
        ? `One is made every night while the server runs; the last ${folder.nightlyKept} are kept.`
        : 'No nightly backup is made: BOILBOOK_BACKUPS_KEPT is 0.'}{' '}
      They are in <span class="code small">{folder.folder}</span>
      {folder.free !== undefined && `, with ${folder.free} free on that disk`}. If this disk fails, they are lost too:
      keep a copy on another device as well.
    </p>
    <form method="post" action="/files/backup">
      <input type="hidden" name="_once" value={page.once} />
      <button class="quiet">Download a backup now</button>
    </form>
    <h2>Restore a backup</h2>
    {folder.backups.length === 0 && <p class="now">There is no backup yet.</p>}
    <ol class="entry-list">
      {folder.backups.map((row) => (
        <Row row={row} />
      ))}
    </ol>
  </>
);

const Row = ({ row: { name, madeAt, why, size, checked } }: { readonly row: BackupRow }) => (
  <li>
    <span class="when">
      <b>{madeAt}</b>
      {size}
    </span>
    <div class="what">
      <p>
        {'damage' in checked ? (
          <>
            <b>Damaged: </b>
            {checked.damage}
          </>
        ) : (
          <>
            {count(checked.entries)}, root <span class="code">{checked.root.slice(0, 12)}</span>, verified
          </>
        )}
      </p>
      <p class="soft">
        {whyText[why]}: <span class="code small">{name}</span>
      </p>
      {!('damage' in checked) && (
        <p>
          <a class="quiet" href={`/backups/${encodeURIComponent(name)}`}>
            What restoring it would change<span class="unseen"> ({name})</span>
          </a>
        </p>
      )}
    </div>
  </li>
);
