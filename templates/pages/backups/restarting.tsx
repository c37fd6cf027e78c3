import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

export interface RestartingProps {
  readonly name: string;
  /** The launcher starts the server again. */
  readonly isAutomatic: boolean;
}

/** Shown while the server ends to restore a backup. */
export const RestartingPage = ({ page, name, isAutomatic }: RestartingProps & PageProps) => (
  <Layout page={page} title="Restoring">
    <h1>Restoring the backup</h1>
    <p class="now">
      {isAutomatic
        ? 'The server restarts with it. Wait half a minute, then open the backups to see what was done.'
        : 'The server has stopped. Start it again with npm start: it restores the backup before it opens the book.'}
    </p>
    <p class="code address">{name}</p>
    <p>
      <a class="main-action" href="/backups">
        Open the backups
      </a>
    </p>
  </Layout>
);
