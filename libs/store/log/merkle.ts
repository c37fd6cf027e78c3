import { createHash } from 'node:crypto';

/**
 * The Merkle tree of RFC 6962 / 9162 over the log, stored as a frontier: the roots of the complete subtrees that cover
 * the log from left to right, largest first. At most one for each bit of the count.
 */
export type Frontier = readonly string[];

/** SHA-256(0x00 ‖ entry), lower-case hex. */
export const leafHash = (entry: string | Uint8Array): string => sha256(zero, entry);

/** The frontier after one more leaf. `count` is the number of leaves before it. */
export function growFrontier(frontier: Frontier, count: number, leaf: string): string[] {
  const grown = [...frontier];
  let right = leaf;
  // Each trailing 1 bit of the count is a complete subtree as large as the one just finished.
  for (let bits = count; bits % 2 === 1; bits = (bits - 1) / 2) right = nodeHash(grown.pop() ?? '', right);
  return [...grown, right];
}

/** The root over all leaves; for an empty log the SHA-256 of the empty string. */
export function rootOf(frontier: Frontier): string {
  const last = frontier.at(-1);
  if (last === undefined) return sha256();
  return frontier.slice(0, -1).reduceRight((right, left) => nodeHash(left, right), last);
}

/** The sibling hashes from leaf `index` to the root of all `leaves`: RFC 6962 section 2.1.1. */
export function inclusionPath(leaves: readonly string[], index: number): string[] {
  if (leaves.length <= 1) return [];
  const split = largestPowerBelow(leaves.length);
  return index < split
    ? [...inclusionPath(leaves.slice(0, split), index), treeHash(leaves.slice(split))]
    : [...inclusionPath(leaves.slice(split), index - split), treeHash(leaves.slice(0, split))];
}

/** Root of a whole list of leaf hashes, split at the largest power of two below its length. */
export function treeHash(leaves: readonly string[]): string {
  return rootOf(leaves.reduce<Frontier>((frontier, leaf, count) => growFrontier(frontier, count, leaf), []));
}

/** The root that a proof computes; anybody can repeat this from a printed proof. */
export function rootFromPath(leaf: string, index: number, count: number, path: readonly string[]): string | undefined {
  if (count === 1) return path.length === 0 ? leaf : undefined;
  const sibling = path.at(-1);
  if (sibling === undefined) return undefined;
  const split = largestPowerBelow(count);
  const inLeft = index < split;
  const own = rootFromPath(leaf, inLeft ? index : index - split, inLeft ? split : count - split, path.slice(0, -1));
  if (own === undefined) return undefined;
  return inLeft ? nodeHash(own, sibling) : nodeHash(sibling, own);
}

const nodeHash = (left: string, right: string): string => sha256(one, Buffer.from(left + right, 'hex'));

const zero = Buffer.from([0]);
const one = Buffer.from([1]);

/** A text is hashed as UTF-8. */
function sha256(...parts: (string | Uint8Array)[]): string {
  const hash = createHash('sha256');
  for (const part of parts) hash.update(part);
  return hash.digest('hex');
}

function largestPowerBelow(count: number): number {
  let power = 1;
  while (power * 2 < count) power *= 2;
  return power;
}
