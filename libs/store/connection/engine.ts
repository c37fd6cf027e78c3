import 'reflect-metadata';
import { closeSync, mkdirSync, openSync } from 'node:fs';
import { dirname } from 'node:path';
import type { DataSourceOptions } from 'typeorm';
// Not the package's whole index, which loads every decorator and takes half as long again at each start.
import { DataSource } from 'typeorm/data-source/DataSource.js';
import { sqliteDriver } from './sqlite-driver.js';
import { Attachments1769900000003 } from '../migrations/3-attachments.js';
import { LogAndHousehold1769900000001 } from '../migrations/1-log-and-household.js';
import { JarReports1769900000002 } from '../migrations/2-jar-reports.js';

/** Where a book is kept: one SQLite file, or a PostgreSQL database. */
export type BookLocation = { readonly file: string } | { readonly url: string };

const migrations = [LogAndHousehold1769900000001, JarReports1769900000002, Attachments1769900000003];
export const knownMigrations: readonly string[] = migrations.map((each) => each.name);

/** A connection that may write. SQLite gives one; every write goes through it in turn. */
export async function openForWriting(location: BookLocation): Promise<DataSource> {
  if ('file' in location) {
    mkdirSync(dirname(location.file), { recursive: true, mode: 0o700 });
    // SQLite gives the files beside a database the database's own mode.
    closeSync(openSync(location.file, 'a', 0o600));
  }
  return opened(new DataSource({ ...options(location, 3), migrations, migrationsTransactionMode: 'each' }));
}

/** A connection that cannot write, for readers that must not wait behind the writer. */
export async function openForReading(location: BookLocation, connections = 12): Promise<DataSource> {
  const source = await opened(new DataSource(options(location, connections)));
  if ('file' in location) await source.query('PRAGMA query_only = ON');
  return source;
}

/** A file looked at or made on the side, not as the book: a scratch copy, a backup to be checked. */
export const besideTheBook = (file: string, busyTimeout = 20_000): DataSource =>
  new DataSource({ type: 'sqlite', database: file, busyTimeout, driver: sqliteDriver });

/** Pool size for PostgreSQL, whose default limit is 100 connections: four servers of 15 leave room. */
function options(location: BookLocation, connections: number): DataSourceOptions {
  if ('file' in location)
    return { type: 'sqlite', database: location.file, enableWAL: true, busyTimeout: 20_000, driver: sqliteDriver };
  return {
    type: 'postgres',
    url: location.url,
    poolSize: connections,
    applicationName: 'boilbook',
    connectTimeoutMS: 10_000,
    // A connection lost while it rests is not worth a line: the next statement takes another.
    poolErrorHandler: () => {},
    // A book's pages are in memory: to jump in them costs what it costs to go on. Left at a turning disk's 4,
    // PostgreSQL reads a young book's whole tables to find three rows; measured, a trace takes half as long again.
    // And its plans are kept: every statement finds by keys, so one plan is as good for all of them. Left to itself
    // PostgreSQL plans the first five of each on every connection, and those that look among a list for ever.
    extra: { options: '-c random_page_cost=1.1 -c plan_cache_mode=force_generic_plan' },
  };
}

/**
 * WAL is durable with synchronous=FULL only, and the pragma belongs to the connection, not the file:
 * a book reopened without it loses acknowledged entries when the power goes.
 */
async function opened(source: DataSource): Promise<DataSource> {
  await source.initialize();
  if (source.options.type === 'sqlite') {
    await source.query('PRAGMA synchronous = FULL');
    await source.query('PRAGMA cell_size_check = ON');
  }
  return source;
}
