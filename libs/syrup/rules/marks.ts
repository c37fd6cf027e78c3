/**
 * How far the source of a number or a rule was seen. `worked` is calculated from figures that the source names. The
 * stored values stay; `markText` is what a reader sees.
 */
export type Mark = 'read' | 'second hand' | 'worked' | 'memory' | 'practice';

export interface Sourced {
  readonly source: string;
  readonly mark: Mark;
  /** Date of the copy that was read, or the year where the copy bears none; nothing where nothing was read. */
  readonly readOn?: string | null | undefined;
}

export const markText: Readonly<Record<Mark, string>> = {
  read: 'read in the source',
  'second hand': 'secondary source',
  worked: 'worked out',
  memory: 'from memory, not verified',
  practice: 'common practice, no source',
};

/** A source from memory never holds a lot; a secondary source or common practice may, and says so. */
export const mayHold = (mark: Mark): boolean => mark !== 'memory';

/** `O. Reg. 119/11 (read in the source, 2026)`; nothing that the source already says is repeated. */
export function sourceText({ source, mark, readOn }: Sourced): string {
  const seen = [source.includes(markText[mark]) ? '' : markText[mark], readOn ?? ''].filter((word) => word !== '');
  return seen.length === 0 ? source : `${source} (${seen.join(', ')})`;
}
