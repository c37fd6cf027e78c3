import type { MigrationInterface, QueryRunner } from 'typeorm';

/** Creates the log, its head, the index version, and the household tables: accounts, sessions, keys, links. */
export class LogAndHousehold1769900000001 implements MigrationInterface {
  // A build may rename classes, and the book stores this name.
  readonly name = 'LogAndHousehold1769900000001';

  async up(runner: QueryRunner): Promise<void> {
    const key = runner.connection.options.type === 'postgres' ? 'TEXT COLLATE "C"' : 'TEXT';
    for (const statement of [
      `CREATE TABLE record_head (id INTEGER PRIMARY KEY, entries INTEGER NOT NULL, frontier TEXT NOT NULL,
         index_version INTEGER NOT NULL)`,
      `INSERT INTO record_head (id, entries, frontier, index_version) VALUES (1, 0, '[]', 0)`,
      `CREATE TABLE entry (seq INTEGER PRIMARY KEY, sugarhouse ${key} NOT NULL, author ${key} NOT NULL,
         idempotency_key ${key} NOT NULL, sent ${key} NOT NULL, json TEXT NOT NULL, leaf ${key} NOT NULL,
         UNIQUE (sugarhouse, author, idempotency_key))`,
      `CREATE TABLE household_person (sugarhouse ${key} NOT NULL, initials ${key} NOT NULL, name TEXT NOT NULL,
         role ${key} NOT NULL, password TEXT, wrong_since TEXT, wrong_count INTEGER NOT NULL, ended_at TEXT,
         PRIMARY KEY (sugarhouse, initials))`,
      `CREATE TABLE household_session (token_hash ${key} PRIMARY KEY, sugarhouse ${key} NOT NULL, initials ${key} NOT NULL,
         role ${key} NOT NULL, began_at TEXT NOT NULL, seen_at TEXT NOT NULL, ends_at ${key} NOT NULL, device TEXT NOT NULL,
         guest_hash ${key})`,
      `CREATE TABLE household_key (token_hash ${key} PRIMARY KEY, sugarhouse ${key} NOT NULL, name ${key} NOT NULL,
         role ${key} NOT NULL, made_at TEXT NOT NULL, ended_at TEXT)`,
      `CREATE TABLE household_guest (token_hash ${key} PRIMARY KEY, sugarhouse ${key} NOT NULL, name TEXT NOT NULL,
         made_by ${key} NOT NULL, made_at TEXT NOT NULL, ends_at ${key} NOT NULL, ended_at TEXT, used INTEGER NOT NULL)`,
      `CREATE TABLE household_note (sugarhouse ${key} NOT NULL, name ${key} NOT NULL, words TEXT NOT NULL,
         PRIMARY KEY (sugarhouse, name))`,
    ])
      await runner.query(statement);
  }

  async down(): Promise<void> {
    throw new Error('A book only goes forward: restore the backup made before the migration instead');
  }
}
