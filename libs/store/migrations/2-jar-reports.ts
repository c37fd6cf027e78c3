import type { MigrationInterface, QueryRunner } from 'typeorm';

/** Creates the table of strangers' reports from jar pages that no maker has recorded yet. Part of the household. */
export class JarReports1769900000002 implements MigrationInterface {
  readonly name = 'JarReports1769900000002';

  async up(runner: QueryRunner): Promise<void> {
    const key = runner.connection.options.type === 'postgres' ? 'TEXT COLLATE "C"' : 'TEXT';
    await runner.query(
      `CREATE TABLE household_jar_report (sugarhouse ${key} NOT NULL, id ${key} NOT NULL, token ${key} NOT NULL,
         lot ${key} NOT NULL, jar ${key} NOT NULL, said TEXT NOT NULL, reach TEXT NOT NULL, sent_at ${key} NOT NULL,
         state ${key} NOT NULL, settled_by TEXT, settled_at TEXT,
         PRIMARY KEY (sugarhouse, id), UNIQUE (sugarhouse, token))`,
    );
  }

  async down(): Promise<void> {
    throw new Error('A book only goes forward: restore the backup made before the migration instead');
  }
}
