import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Creates the table of answers to requests that were sent with a key, so that the same request gets the first answer.
 * Part of the household: an answer holds notes, which the log doesn't.
 */
export class KeptAnswers1769900000004 implements MigrationInterface {
  readonly name = 'KeptAnswers1769900000004';

  async up(runner: QueryRunner): Promise<void> {
    const key = runner.connection.options.type === 'postgres' ? 'TEXT COLLATE "C"' : 'TEXT';
    await runner.query(
      `CREATE TABLE household_answer (sugarhouse ${key} NOT NULL, author ${key} NOT NULL,
         idempotency_key ${key} NOT NULL, request ${key} NOT NULL, location TEXT NOT NULL, body TEXT NOT NULL,
         sent_at ${key} NOT NULL, PRIMARY KEY (sugarhouse, author, idempotency_key))`,
    );
    await runner.query('CREATE INDEX household_answer_sent_at ON household_answer (sent_at)');
  }

  async down(): Promise<void> {
    throw new Error('A book only goes forward: restore the backup made before the migration instead');
  }
}
