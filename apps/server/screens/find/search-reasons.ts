import { kindByName } from '#libs/actions/kinds/registry.js';
import type { StoredRecord } from '#libs/store/queries/lots.js';
import { fieldText } from '#libs/actions/record/problem.js';
import type { MatchExcerpt } from '#pages/find/match-excerpts.js';

/** The search: its words, and its days as text where it names any. */
export interface SearchQuery {
  readonly text: readonly string[];
  readonly days: string | undefined;
}

/** Why a lot was found: the words in its code, and its day. */
export const lotReasons = (code: string, { text: query, days }: SearchQuery): MatchExcerpt[] => [
  ...query.flatMap((word) => excerpt('code', code, word)),
  ...dayReason(days),
];

/** Each word in the first field that contains it, and the days. */
export function recordReasons(
  { kind, id, typed }: Pick<StoredRecord, 'kind' | 'id' | 'typed'>,
  { text: query, days }: SearchQuery,
): MatchExcerpt[] {
  const fields = kindByName.get(kind)?.fields ?? {};
  const texts = [
    ['number', id] as const,
    ...Object.entries(typed).map(([name, text]) => [fields[name]?.label ?? fieldText(name), text] as const),
  ];
  const reasons = query.flatMap((word) => {
    for (const [label, text] of texts) {
      const found = excerpt(label.toLowerCase(), text, word);
      if (found.length > 0) return found;
    }
    return [];
  });
  return [...reasons, ...dayReason(days)];
}

const dayReason = (days: string | undefined): MatchExcerpt[] =>
  days === undefined ? [] : [{ label: 'date', before: '', hit: days, after: '' }];

const contextLetters = 40;

function excerpt(label: string, text: string, word: string): MatchExcerpt[] {
  const at = text.toLowerCase().indexOf(word.toLowerCase());
  if (at < 0) return [];
  const end = at + word.length;
  return [
    {
      label,
      before: `${at > contextLetters ? '…' : ''}${text.slice(Math.max(0, at - contextLetters), at)}`,
      hit: text.slice(at, end),
      after: `${text.slice(end, end + contextLetters)}${text.length > end + contextLetters ? '…' : ''}`,
    },
  ];
}
