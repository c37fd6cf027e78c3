/**
 * How the source of a number or rule was seen. `worked` is calculated from figures in the source. These are the stored
 * values; `markText` gives the text for readers.
 */
export type Provenance = 'read' | 'second hand' | 'worked' | 'memory' | 'practice';

/** Anything with a source. */
export interface Sourced {
  readonly source: string;
  readonly mark: Provenance;
  /** Date of the copy that was read, or its year where the copy has no date; absent where nothing was read. */
  readonly readOn?: string | null | undefined;
}

/** How a source was seen, in words for readers. */
export const provenanceText: Readonly<Record<Provenance, string>> = {
  read: 'read in the source',
  'second hand': 'secondary source',
  worked: 'calculated',
  memory: 'from memory, not verified',
  practice: 'common practice, no source',
};

/** Whether a limit with this provenance may hold a lot: not one from memory. */
export const mayHold = (mark: Provenance): boolean => mark !== 'memory';

/** `O. Reg. 119/11 (read in the source, 2026)`; nothing that the source already says is repeated. */
export function sourceText({ source, mark, readOn }: Sourced): string {
  const seen = [source.includes(provenanceText[mark]) ? '' : provenanceText[mark], readOn ?? ''].filter(
    (word) => word !== '',
  );
  return seen.length === 0 ? source : `${source} (${seen.join(', ')})`;
}
