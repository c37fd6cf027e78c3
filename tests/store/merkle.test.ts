import { createHash } from 'node:crypto';
import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import {
  type Frontier,
  growFrontier,
  inclusionPath,
  leafHash,
  rootFromPath,
  rootOf,
  treeHash,
} from '#libs/store/log/merkle.js';

// Leaves and roots of the certificate-transparency reference tests for RFC 6962 (public test constants, read).
const published: readonly (readonly [string, string])[] = [
  ['', '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d'],
  ['00', 'fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125'],
  ['10', 'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77'],
  ['2021', 'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7'],
  ['3031', '4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4'],
  ['40414243', '76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef'],
  ['5051525354555657', 'ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c'],
  ['606162636465666768696a6b6c6d6e6f', '5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328'],
];
const leaves = published.map(([hex]) => leafHash(Buffer.from(hex, 'hex')));

describe('The tree of the record log', () => {
  test('of an empty log is SHA-256 of nothing', () => {
    expect(rootOf([])).toBe('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855');
  });

  test.each(published.map(([, root], n) => [n + 1, root] as const))(
    'of %i published leaves has the published root',
    (count, root) => {
      expect(treeHash(leaves.slice(0, count))).toBe(root);
    },
  );

  // The published audit paths of the same tests, for the first and the sixth leaf of eight.
  test.each([
    [
      0,
      [
        '96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7',
        '5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e',
        '6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4',
      ],
    ],
    [
      5,
      [
        'bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b',
        'ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0',
        'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
      ],
    ],
  ])('has the published path for leaf %i of eight', (index, path) => {
    expect(inclusionPath(leaves, index)).toEqual(path);
    expect(rootFromPath(leaves[index]!, index, 8, path)).toBe(published[7]![1]);
  });

  const anyLeaves = fc.array(fc.uint8Array({ maxLength: 20 }), { minLength: 1, maxLength: 200 });

  test('grown leaf by leaf is the tree that RFC 6962 defines top-down, and its frontier stays small', () => {
    fc.assert(
      fc.property(anyLeaves, (entries) => {
        const hashes = entries.map((entry) => leafHash(entry));
        const frontier = hashes.reduce<Frontier>((grown, leaf, count) => growFrontier(grown, count, leaf), []);
        expect(rootOf(frontier)).toBe(byDefinition(entries));
        expect(frontier).toHaveLength(entries.length.toString(2).replaceAll('0', '').length);
      }),
    );
  });

  test('proves every leaf by its path, and no other leaf, position, count or changed path', () => {
    fc.assert(
      fc.property(anyLeaves, fc.nat(), fc.nat(), (entries, at, spoil) => {
        const hashes = entries.map((entry, n) => leafHash(Buffer.concat([Buffer.from([n]), entry])));
        const index = at % hashes.length;
        const leaf = hashes[index]!;
        const root = treeHash(hashes);
        const path = inclusionPath(hashes, index);
        expect(rootFromPath(leaf, index, hashes.length, path)).toBe(root);
        expect(rootFromPath(leafHash('another'), index, hashes.length, path)).not.toBe(root);
        expect(rootFromPath(leaf, index, hashes.length, [...path, leaf])).not.toBe(root);
        if (hashes.length > 1)
          expect(rootFromPath(leaf, (index + 1) % hashes.length, hashes.length, path)).not.toBe(root);
        if (path.length === 0) return;
        const changed = path.map((hash, n) => (n === spoil % path.length ? leafHash(hash) : hash));
        expect(rootFromPath(leaf, index, hashes.length, changed)).not.toBe(root);
        expect(rootFromPath(leaf, index, hashes.length, path.slice(1))).not.toBe(root);
      }),
    );
  });
});

/** MTH of RFC 6962 section 2.1, literally. */
function byDefinition(entries: readonly Uint8Array[]): string {
  const sha = (...parts: Uint8Array[]): string => createHash('sha256').update(Buffer.concat(parts)).digest('hex');
  if (entries.length === 0) return sha();
  if (entries.length === 1) return sha(Buffer.from([0]), entries[0]!);
  let k = 1;
  while (k * 2 < entries.length) k *= 2;
  const hex = (part: readonly Uint8Array[]): Buffer => Buffer.from(byDefinition(part), 'hex');
  return sha(Buffer.from([1]), hex(entries.slice(0, k)), hex(entries.slice(k)));
}
