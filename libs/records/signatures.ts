import type { NumberedEntry } from './entry.js';
import type { VerificationBody } from './kinds/verification.js';

/** Who filled, released and verified a lot, and whether that was the same person. */
export interface Signatures {
  /** Everybody who recorded or changed the pack or boil itself, or acted on it. */
  readonly filledBy: readonly string[];
  readonly releases: readonly Signed[];
  readonly verifications: readonly Signed[];
}

export interface Signed {
  readonly by: string;
  readonly at: string;
  readonly words: string;
  /** Whether the same person also filled it. */
  readonly alsoFilled: boolean;
}

/** From the lot's history, oldest entry first, and its verifications. */
export function signaturesIn(
  entries: readonly NumberedEntry[],
  lot: string,
  verifications: readonly VerificationBody[],
): Signatures {
  const filling = entries.filter(
    ({ record }) =>
      (record?.id === lot && (record.kind === 'pack' || record.kind === 'boil')) || record?.kind === 'action',
  );
  const bodyBy = ({ record }: NumberedEntry): string[] => {
    const by = (record?.body as { by?: unknown } | undefined)?.by;
    return typeof by === 'string' && by !== '' ? [by] : [];
  };
  const filledBy = [...new Set(filling.flatMap((entry) => [entry.by, ...bodyBy(entry)]))];
  const filled = new Set(filledBy.map(sameName));
  const signed = (by: string, at: string, text: string): Signed => ({
    by,
    at,
    words: text,
    alsoFilled: filled.has(sameName(by)),
  });
  return {
    filledBy,
    releases: entries
      .filter(({ entryType }) => entryType === 'release')
      .map((entry) => signed(entry.by, entry.happenedAt, entry.why ?? '')),
    verifications: verifications.map(({ by, at, note }) => signed(by, at, note)),
  };
}

const sameName = (by: string): string => by.trim().toUpperCase();

/** One sentence for each signature, for page and terminal. A boil is recorded by somebody; nothing of it is filled. */
export function signatureSentences(
  { filledBy, releases, verifications }: Signatures,
  kind: 'pack' | 'boil' = 'pack',
): string[] {
  const did = kind === 'boil' ? 'recorded' : 'filled';
  const also = ({ by, alsoFilled }: Signed): string => (alsoFilled ? ` ${by} also ${did} it.` : '');
  const at = (moment: string): string => moment.slice(0, 16).replace('T', ' ');
  const stop = (text: string): string => (text === '' || /[.!?]$/.test(text) ? text : `${text}.`);
  return [
    `${kind === 'boil' ? 'Recorded' : 'Filled'} by ${filledBy.join(', ') || 'not recorded'}.`,
    ...releases.map((each) => `Released by ${each.by}, ${at(each.at)}: ${stop(each.words)}${also(each)}`),
    ...verifications.map(
      (each) => `Verified by ${each.by}, ${at(each.at)}${each.words ? `: ${stop(each.words)}` : '.'}${also(each)}`,
    ),
    ...(verifications.some(({ alsoFilled }) => !alsoFilled)
      ? []
      : ['Verification by a second person is not recorded.']),
  ];
}
