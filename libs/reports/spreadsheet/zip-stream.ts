import { once } from 'node:events';
import type { Writable } from 'node:stream';
import { createDeflateRaw } from 'node:zlib';

/** A ZIP file written entry by entry: sizes follow the content, so that no entry has to fit into memory. */
export interface ZipStream {
  entry(name: string, pieces: Iterable<string> | AsyncIterable<string>): Promise<void>;
  /** Writes the directory and ends `out`; resolves once all of it has been passed on. */
  end(): Promise<void>;
}

/** Writes a ZIP file piece by piece into `out`; `at` is the time of all its entries. */
export function zipStream(out: Writable, at: Date): ZipStream {
  const directory: Buffer[] = [];
  let written = 0;
  const write = async (bytes: Buffer): Promise<void> => {
    written += bytes.length;
    if (!out.write(bytes)) await once(out, 'drain');
  };
  return {
    entry: async (name, pieces) => {
      const begins = written;
      const title = Buffer.from(name);
      await write(localHeader(title, at));
      const packedFrom = written;
      const { crc, size } = await deflate(pieces, write);
      const sizes = { crc, packed: written - packedFrom, size };
      await write(dataDescriptor(sizes));
      directory.push(directoryHeader(title, at, sizes, begins));
    },
    end: async () => {
      const begins = written;
      for (const each of directory) await write(each);
      await write(endOfDirectory(directory.length, written - begins, begins));
      out.end();
    },
  };
}

/** Compresses the pieces into `write`; resolves to the CRC-32 and the length in bytes of what was read. */
async function deflate(
  pieces: Iterable<string> | AsyncIterable<string>,
  write: (bytes: Buffer) => Promise<void>,
): Promise<{ crc: number; size: number }> {
  const packer = createDeflateRaw();
  let [crc, size] = [0xffffffff, 0];
  const passedOn = (async () => {
    for await (const some of packer) await write(some as Buffer);
  })();
  const fed = (async () => {
    for await (const piece of pieces) {
      const bytes = Buffer.from(piece);
      crc = crcAfter(crc, bytes);
      size += bytes.length;
      if (!packer.write(bytes)) await once(packer, 'drain');
    }
    packer.end();
  })();
  await Promise.all([fed, passedOn]).catch((fault: unknown) => {
    packer.destroy();
    throw fault;
  });
  return { crc: ~crc >>> 0, size };
}

// The parts of a ZIP file, field by field as in APPNOTE.TXT, sections 4.3.7 to 4.3.16 (read in the source). Sizes of 32
// bits: no sheet is 4 GB long.
const utf8AndSizesAfter = 0x0808;
const deflated = 8;

interface EntrySizes {
  readonly crc: number;
  readonly packed: number;
  readonly size: number;
}

const formatAndTime = (at: Date): Buffer =>
  littleEndian([20, 2], [utf8AndSizesAfter, 2], [deflated, 2], [dosTime(at), 4]);

/** Begins an entry; its checksum and sizes are 0 here and follow its content. */
const localHeader = (title: Buffer, at: Date): Buffer =>
  Buffer.concat([
    littleEndian([0x04034b50, 4]),
    formatAndTime(at),
    littleEndian([0, 4], [0, 4], [0, 4], [title.length, 2], [0, 2]),
    title,
  ]);

const sizeFields = ({ crc, packed, size }: EntrySizes): Buffer => littleEndian([crc, 4], [packed, 4], [size, 4]);

/** Ends an entry. */
const dataDescriptor = (sizes: EntrySizes): Buffer => Buffer.concat([littleEndian([0x08074b50, 4]), sizeFields(sizes)]);

/** The entry's line in the directory; `begins` is where its local header is in the file. */
const directoryHeader = (title: Buffer, at: Date, sizes: EntrySizes, begins: number): Buffer =>
  Buffer.concat([
    littleEndian([0x02014b50, 4], [20, 2]),
    formatAndTime(at),
    sizeFields(sizes),
    littleEndian([title.length, 2], [0, 2], [0, 2], [0, 2], [0, 2], [0, 4], [begins, 4]),
    title,
  ]);

/** The last bytes of the file: how many entries it has, and the directory's length and place. */
const endOfDirectory = (entries: number, length: number, begins: number): Buffer =>
  littleEndian([0x06054b50, 4], [0, 2], [0, 2], [entries, 2], [entries, 2], [length, 4], [begins, 4], [0, 2]);

function littleEndian(...fields: readonly (readonly [value: number, bytes: 2 | 4])[]): Buffer {
  const buffer = Buffer.alloc(fields.reduce((sum, [, bytes]) => sum + bytes, 0));
  let at = 0;
  for (const [value, bytes] of fields) at = buffer.writeUIntLE(value, at, bytes);
  return buffer;
}

/** This time format has a resolution of two seconds. */
const dosTime = (at: Date): number =>
  (((((at.getUTCFullYear() - 1980) << 9) | ((at.getUTCMonth() + 1) << 5) | at.getUTCDate()) << 16) |
    (at.getUTCHours() << 11) |
    (at.getUTCMinutes() << 5) |
    (at.getUTCSeconds() >> 1)) >>>
  0;

const crcTable = Uint32Array.from({ length: 256 }, (_, n) => {
  let value = n;
  for (let bit = 0; bit < 8; bit++) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value;
});

function crcAfter(before: number, bytes: Buffer): number {
  let crc = before;
  for (const byte of bytes) crc = (crcTable[(crc ^ byte) & 0xff] ?? 0) ^ (crc >>> 8);
  return crc;
}
