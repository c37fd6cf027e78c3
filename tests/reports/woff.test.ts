import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from '@jest/globals';
import { packageRoot } from '#libs/package-root.js';
import { unpackWoff } from '#libs/pdf/woff.js';

const packed = (family: string, part: string): Buffer =>
  readFileSync(join(packageRoot, 'node_modules/@fontsource', family, 'files', `${family}-${part}-normal.woff`));

/** The checksum of a table, as OpenType calculates it. */
function checksum(table: Buffer): number {
  const padded = Buffer.concat([table, Buffer.alloc((4 - (table.length % 4)) % 4)]);
  let sum = 0;
  for (let at = 0; at < padded.length; at += 4) sum = (sum + padded.readUInt32BE(at)) >>> 0;
  return sum;
}

describe('a packed font', () => {
  test.each(['latin-400', 'latin-700', 'latin-ext-400'])(
    'unpacks to tables that have their own checksums, %s',
    (part) => {
      const font = unpackWoff(packed('atkinson-hyperlegible-next', part));
      const count = font.readUInt16BE(4);
      expect(count).toBeGreaterThan(8);
      const tags: string[] = [];
      for (let index = 0; index < count; index += 1) {
        const at = 12 + index * 16;
        const tag = font.toString('latin1', at, at + 4);
        tags.push(tag);
        const offset = font.readUInt32BE(at + 8);
        expect(offset % 4).toBe(0);
        const table = Buffer.from(font.subarray(offset, offset + font.readUInt32BE(at + 12)));
        // The head table's checksum leaves out the whole font's checksum that it contains.
        if (tag === 'head') table.writeUInt32BE(0, 8);
        expect({ tag, sum: checksum(table) }).toEqual({ tag, sum: font.readUInt32BE(at + 4) });
      }
      expect(tags).toEqual(expect.arrayContaining(['cmap', 'glyf', 'head', 'hmtx', 'loca']));
    },
  );

  test('is refused where it is another format', () => {
    expect(() => unpackWoff(Buffer.alloc(64))).toThrow('Not a font packed as WOFF');
  });
});
