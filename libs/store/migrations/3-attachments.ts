import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Creates the table of photos: the image as base64 text, which is the same on both engines and in a copy between them.
 */
export class Attachments1769900000003 implements MigrationInterface {
  readonly name = 'Attachments1769900000003';

  async up(runner: QueryRunner): Promise<void> {
    const key = runner.connection.options.type === 'postgres' ? 'TEXT COLLATE "C"' : 'TEXT';
    await runner.query(`CREATE TABLE household_attachment (sugarhouse ${key} NOT NULL, sha256 ${key} NOT NULL,
      bytes INTEGER NOT NULL, content TEXT NOT NULL, PRIMARY KEY (sugarhouse, sha256))`);
  }

  async down(): Promise<void> {
    throw new Error('A book only goes forward: restore the backup made before the migration instead');
  }
}
