import { historyOf, walkLog } from './log.js';
import { inclusionPath, treeHash } from './merkle.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

export interface LotProof {
  readonly entries: number;
  readonly root: string;
  readonly proofs: readonly {
    readonly entry: number;
    readonly text: string;
    readonly leaf: string;
    /** From the leaf's sibling up, as RFC 6962 section 2.1.1 orders them. */
    readonly path: readonly string[];
  }[];
}

/** Proves that every entry about a lot is in the log with the printed root. Reads all leaf hashes once. */
export async function proveLot(reader: SugarhouseReader, lot: string): Promise<LotProof> {
  const { sql } = reader;
  const about = new Set((await historyOf(reader, lot)).map((entry) => entry.seq));
  const leaves: string[] = [];
  const texts = new Map<number, string>();
  for await (const row of walkLog(sql)) {
    leaves.push(row.leaf);
    if (about.has(row.seq)) texts.set(row.seq, row.json);
  }
  const proofs = [...texts].map(([entry, text]) => ({
    entry,
    text,
    leaf: leaves[entry - 1] ?? '',
    path: inclusionPath(leaves, entry - 1),
  }));
  return { entries: leaves.length, root: treeHash(leaves), proofs };
}
