import { inflateSync } from 'node:zlib';

/**
 * Unpacks a WOFF font (W3C Recommendation, WOFF File Format 1.0) to the OpenType file it was made from. The font
 * library can read WOFF itself, but unpacks a table again for each glyph: unpacking once makes long documents fast.
 * Throws where the bytes are no WOFF.
 */
export function unpackWoff(packed: Buffer): Buffer {
  if (packed.readUInt32BE(0) !== signature) throw new Error('Not a font packed as WOFF');
  const count = packed.readUInt16BE(12);
  const tables = Array.from({ length: count }, (_, index) => readTable(packed, headerBytes + index * 20));
  const directoryBytes = 12 + count * 16;
  const directory = Buffer.alloc(directoryBytes);
  // Fields for a binary search of the directory: the greatest power of two not above the number of tables, and the
  // rest.
  const power = 2 ** Math.floor(Math.log2(count));
  directory.writeUInt32BE(packed.readUInt32BE(4), 0);
  directory.writeUInt16BE(count, 4);
  directory.writeUInt16BE(power * 16, 6);
  directory.writeUInt16BE(Math.log2(power), 8);
  directory.writeUInt16BE((count - power) * 16, 10);
  const parts: Buffer[] = [directory];
  let offset = directoryBytes;
  tables.forEach((table, index) => {
    const entry = 12 + index * 16;
    directory.writeUInt32BE(table.tag, entry);
    directory.writeUInt32BE(table.checksum, entry + 4);
    directory.writeUInt32BE(offset, entry + 8);
    directory.writeUInt32BE(table.content.length, entry + 12);
    // Each table begins at a multiple of four bytes.
    const padded = (table.content.length + 3) & ~3;
    parts.push(table.content, Buffer.alloc(padded - table.content.length));
    offset += padded;
  });
  return Buffer.concat(parts);
}

const signature = 0x774f4646; // `wOFF`
const headerBytes = 44;

interface Table {
  readonly tag: number;
  readonly checksum: number;
  readonly content: Buffer;
}

function readTable(packed: Buffer, entry: number): Table {
  const offset = packed.readUInt32BE(entry + 4);
  const packedBytes = packed.readUInt32BE(entry + 8);
  const bytes = packed.readUInt32BE(entry + 12);
  const content = packed.subarray(offset, offset + packedBytes);
  return {
    tag: packed.readUInt32BE(entry),
    checksum: packed.readUInt32BE(entry + 16),
    // A table that compression would not make smaller is stored as it is.
    content: packedBytes < bytes ? inflateSync(content) : content,
  };
}
