import { createHash } from 'node:crypto';
import { toNumber, type Sql } from '../connection/sql.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** A photo of a record, as the index has it from the log. */
export interface Photo {
  readonly entry: number;
  readonly sha256: string;
  readonly width: number;
  readonly height: number;
  readonly caption: string;
  readonly by: string;
  readonly at: string;
}

const hashOfContent = (content: Buffer): string => createHash('sha256').update(content).digest('hex');

/** Stores bytes under their SHA-256, deduplicated; resolves to the hash in hex. */
export async function saveAttachment({ sql, sugarhouse }: SugarhouseReader, content: Buffer): Promise<string> {
  const sha256 = hashOfContent(content);
  await sql.run`INSERT INTO household_attachment (sugarhouse, sha256, bytes, content)
    VALUES (${sugarhouse}, ${sha256}, ${content.length}, ${content.toString('base64')})
    ON CONFLICT (sugarhouse, sha256) DO NOTHING`;
  return sha256;
}

/** The image with the hash that an entry names; `altered` where the stored bytes no longer match it. */
export async function findAttachment(
  { sql, sugarhouse }: SugarhouseReader,
  sha256: string,
): Promise<Buffer | 'missing' | 'altered'> {
  const row = await sql.row<{ content: string }>`SELECT content FROM household_attachment
    WHERE sugarhouse = ${sugarhouse} AND sha256 = ${sha256}`;
  if (!row) return 'missing';
  const content = Buffer.from(row.content, 'base64');
  return hashOfContent(content) === sha256 ? content : 'altered';
}

/** The total bytes of attachments that the sugarhouse stores. */
export async function attachedBytes({ sql, sugarhouse }: SugarhouseReader): Promise<number> {
  const row = await sql.row<{ bytes: number | string | null }>`SELECT SUM(bytes) AS bytes FROM household_attachment
    WHERE sugarhouse = ${sugarhouse}`;
  return toNumber(row?.bytes ?? 0);
}

/** The photos of a record, in the order of their entries. */
export async function photosOf({ sql, sugarhouse }: SugarhouseReader, kind: string, id: string): Promise<Photo[]> {
  const rows = await sql.rows<PhotoColumns>`SELECT * FROM photo
    WHERE sugarhouse = ${sugarhouse} AND kind = ${kind} AND id = ${id} ORDER BY seq`;
  return rows.map(photoFrom);
}

/** Photos of a lot and of the records about it. */
export async function photosAbout({ sql, sugarhouse }: SugarhouseReader, lot: string): Promise<Photo[]> {
  const rows = await sql.rows<PhotoColumns>`SELECT photo.* FROM lot_entry JOIN photo
    ON photo.sugarhouse = lot_entry.sugarhouse AND photo.seq = lot_entry.seq
    WHERE lot_entry.sugarhouse = ${sugarhouse} AND lot_entry.lot = ${lot} AND lot_entry.entry_type = 'photo' ORDER BY photo.seq`;
  return rows.map(photoFrom);
}

/** Whether an entry of the sugarhouse names this image: nothing else is served. */
export async function isPhotoOf({ sql, sugarhouse }: SugarhouseReader, sha256: string): Promise<boolean> {
  return (
    (await sql.row`SELECT seq FROM photo WHERE sugarhouse = ${sugarhouse} AND sha256 = ${sha256} LIMIT 1`) !== undefined
  );
}

/** The first photo in the log that is missing or altered, in a sentence. */
export async function photoDifference(sql: Sql): Promise<string | undefined> {
  for (let last = 0; ;) {
    const some = await sql.rows<PhotoColumns & { sugarhouse: string; kind: string; id: string }>`SELECT * FROM photo
      WHERE seq > ${last} ORDER BY seq LIMIT 200`;
    for (const { sugarhouse, sha256, seq, kind, id } of some) {
      const found = await findAttachment({ sql, sugarhouse }, sha256);
      if (typeof found === 'string') return `entry ${seq}: the photo of ${kind} ${id} is ${found}`;
    }
    const end = some.at(-1);
    if (!end) return undefined;
    last = end.seq;
  }
}

interface PhotoColumns {
  seq: number;
  sha256: string;
  width: number;
  height: number;
  caption: string;
  by: string;
  at_text: string;
}

const photoFrom = (row: PhotoColumns): Photo => ({
  entry: row.seq,
  sha256: row.sha256,
  width: row.width,
  height: row.height,
  caption: row.caption,
  by: row.by,
  at: row.at_text,
});
