import { closeSync, mkdirSync, openSync } from 'node:fs';
import { dirname } from 'node:path';
import type { DataSource, DataSourceOptions } from 'typeorm';
import { sqliteConnection, type SqliteConnection } from './sqlite-connection.js';
import { sqliteDriver } from './sqlite-driver.js';
import { Attachments1769900000003 } from '../migrations/3-attachments.js';
import { LogAndHousehold1769900000001 } from '../migrations/1-log-and-household.js';
import { JarReports1769900000002 } from '../migrations/2-jar-reports.js';
import { KeptAnswers1769900000004 } from '../migrations/4-kept-answers.js';

/** Where a book is stored: one SQLite file, or a PostgreSQL database. */
export type BookLocation = { readonly file: string } | { readonly url: string };

const migrations = [
  LogAndHousehold1769900000001,
  JarReports1769900000002,
  Attachments1769900000003,
  KeptAnswers1769900000004,
];
export const knownMigrations: readonly string[] = migrations.map((each) => each.name);

/** The connection interface of both engines. */
export type Connection = DataSource | SqliteConnection;

/** A connection that may write. SQLite has one; all writes share it in turn. */
export async function openForWriting(location: BookLocation): Promise<Connection> {
  if (!('file' in location)) return typeOrm(location, 3);
  mkdirSync(dirname(location.file), { recursive: true, mode: 0o700 });
  // SQLite gives the files beside a database the database's own mode.
  closeSync(openSync(location.file, 'a', 0o600));
  return sqliteConnection(location.file, busyTimeoutMs, ofTheBook).initialize();
}

/** A read-only connection, for readers that must not wait for the writer. */
export async function openForReading(location: BookLocation, connections = 12): Promise<Connection> {
  if (!('file' in location)) return typeOrm(location, connections);
  return sqliteConnection(location.file, busyTimeoutMs, [...ofTheBook, 'query_only = ON']).initialize();
}

/** Migrates the tables. On SQLite TypeORM opens its own connection for it, and closes it again. */
export async function runMigrations(location: BookLocation, writer: Connection): Promise<void> {
  const source = 'runMigrations' in writer ? writer : await typeOrm(location, 1);
  try {
    await source.runMigrations({ transaction: 'each' });
  } finally {
    if (source !== writer) await source.destroy();
  }
}

/** Loaded only when needed: it takes longer than everything else at the start of a command. */
async function typeOrm(location: BookLocation, connections: number): Promise<DataSource> {
  await import('reflect-metadata');
  // Not the package's index, which loads every decorator and takes half as long again.
  const { DataSource: Source } = await import('typeorm/data-source/DataSource.js');
  const source = new Source({ ...options(location, connections), migrations, migrationsTransactionMode: 'each' });
  await source.initialize();
  if ('file' in location) for (const pragma of ofTheBook) await source.query(`PRAGMA ${pragma}`);
  return source;
}

const busyTimeoutMs = 20_000;

/**
 * WAL is durable with synchronous=FULL only, and the pragma belongs to the connection, not the file:
 * a book reopened without it loses acknowledged entries when the power goes.
 */
const ofTheBook = ['journal_mode = WAL', 'foreign_keys = ON', 'synchronous = FULL', 'cell_size_check = ON'] as const;

/**
 * A copy of a book that is deleted after use. Nothing is acknowledged from it, so its writes wait for no disk; nobody
 * else writes to it, so it has no write-ahead log, which would have to be copied back into it.
 */
export const openScratch = (file: string): Promise<SqliteConnection> =>
  sqliteConnection(file, busyTimeoutMs, [
    'synchronous = OFF',
    'journal_mode = MEMORY',
    'foreign_keys = ON',
  ]).initialize();

/** A file other than the book itself: a scratch copy, a backup to be checked. */
export const openBesideBook = (file: string, busyTimeout = busyTimeoutMs): SqliteConnection =>
  sqliteConnection(file, busyTimeout, ['foreign_keys = ON']);

/** Pool size for PostgreSQL, whose default limit is 100 connections: four servers of 15 leave room. */
function options(location: BookLocation, connections: number): DataSourceOptions {
  if ('file' in location)
    return {
      type: 'sqlite',
      database: location.file,
      enableWAL: true,
      busyTimeout: busyTimeoutMs,
      driver: sqliteDriver,
    };
  return {
    type: 'postgres',
    url: location.url,
    poolSize: connections,
    applicationName: 'boilbook',
    connectTimeoutMS: 10_000,
    // A connection lost while idle isn't logged: the next statement uses another.
    poolErrorHandler: () => {},
    // A book's pages are in memory, so random access costs as much as sequential. With the default of 4 for rotating
    // disks, PostgreSQL reads a small book's whole tables to find three rows; measured, a trace takes half as long
    // again. Plans are generic: every statement looks up keys, so one plan suits all parameters. By default PostgreSQL
    // plans the first five executions of each statement on every connection, and statements with a list every time.
    extra: { options: '-c random_page_cost=1.1 -c plan_cache_mode=force_generic_plan', onConnect: outliveBreaks },
  };
}

/**
 * A connection that breaks fails the statement that uses it. Without a listener of its own it would end the process
 * where it breaks between the pool's listener and the caller's, as when PostgreSQL is stopped while connections open.
 */
function outliveBreaks(client: NodeJS.EventEmitter): void {
  client.on('error', () => {});
}
