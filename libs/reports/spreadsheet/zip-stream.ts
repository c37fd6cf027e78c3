import { once } from 'node:events';
import type { Writable } from 'node:stream';
import { createDeflateRaw } from 'node:zlib';

/** A ZIP file written entry by entry: sizes follow the content, so that no entry has to fit into memory. */
export interface ZipStream {
  entry(name: string, pieces: Iterable<string> | AsyncIterable<string>): Promise<void>;
  /** Writes the directory and ends `out`; resolves once all of it has been passed on. */
  end(): Promise<void>;
}

// Field by field as in APPNOTE.TXT, sections 4.3.7 to 4.3.16 (read in the source). Sizes of 32 bits: no sheet is 4 GB
// long.
const utf8AndSizesAfter = 0x0808;
const deflated = 8;

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
      const versions = littleEndian([20, 2], [utf8AndSizesAfter, 2], [deflated, 2], [dosTime(at), 4]);
      await write(
        Buffer.concat([
          littleEndian([0x04034b50, 4]),
          versions,
          littleEndian([0, 4], [0, 4], [0, 4], [title.length, 2], [0, 2]),
          title,
        ]),
      );
      const packed = written;
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
      const sizes = littleEndian([~crc >>> 0, 4], [written - packed, 4], [size, 4]);
      await write(Buffer.concat([littleEndian([0x08074b50, 4]), sizes]));
      const place = littleEndian([title.length, 2], [0, 2], [0, 2], [0, 2], [0, 2], [0, 4], [begins, 4]);
      directory.push(Buffer.concat([littleEndian([0x02014b50, 4], [20, 2]), versions, sizes, place, title]));
    },
    end: async () => {
      const begins = written;
      for (const each of directory) await write(each);
      const count = directory.length;
      const end = littleEndian(
        [0x06054b50, 4],
        [0, 2],
        [0, 2],
        [count, 2],
        [count, 2],
        [written - begins, 4],
        [begins, 4],
        [0, 2],
      );
      await write(end);
      out.end();
    },
  };
}

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
