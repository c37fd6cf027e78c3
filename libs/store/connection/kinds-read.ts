import type { SqlValue } from './sql.js';

/**
 * The kinds of records that a statement can read, from its text: undefined where it may read any, none where it reads no
 * records. Worked out, not declared: a write keeps an answer while records of other kinds are written. A SELECT counts
 * only where it reads `record` alone and its WHERE demands a kind beside conditions without OR; subselects by themselves.
 */
export function kindsRead(text: string, values: readonly SqlValue[]): readonly string[] | undefined {
  let marks = known.get(text);
  if (marks === undefined) {
    if (known.size >= mostTexts) known.clear();
    marks = marksOfKinds(text) ?? 'any';
    known.set(text, marks);
  }
  if (marks === 'any') return undefined;
  // PostgreSQL takes a list as one value.
  return marks.flatMap((mark) =>
    mark.startsWith('$') ? [values[Number(mark.slice(1)) - 1]].flat().map(String) : mark.slice(1, -1),
  );
}
const known = new Map<string, readonly string[] | 'any'>();
const mostTexts = 4000;

/** The placeholders, as $n, and quoted texts that stand for the kinds. */
function marksOfKinds(text: string): string[] | undefined {
  if (/\b(?:INSERT|UPDATE|DELETE)\b/.test(text)) return undefined;
  let n = 0;
  let rest = text
    .replace(/'[^']*'/g, (quoted) => (/^'[a-z-]+'$/.test(quoted) ? quoted : "''"))
    .replace(/\?(\d*)/g, (_, number: string) => `$${number || ++n}`);
  const found: string[] = [];
  // The innermost brackets first: each becomes a list in ‹ ›, or nothing.
  for (let inner = /\(([^()]*)\)/.exec(rest); inner; inner = /\(([^()]*)\)/.exec(rest)) {
    const [whole, content = ''] = inner;
    if (/\bSELECT\b/.test(content)) {
      const marks = marksOfSelect(content);
      if (!marks) return undefined;
      found.push(...marks);
    }
    const left = /\b(?:SELECT|OR|AND)\b/.test(content) ? '' : content;
    rest = rest.replace(whole, () => `‹${left}›`);
  }
  const marks = marksOfSelect(rest);
  return marks && [...found, ...marks];
}

function marksOfSelect(select: string): string[] | undefined {
  const tables = [...select.matchAll(/\b(?:FROM|JOIN)\s+(\w+)/g)].map(([, name]) => name);
  if (!tables.includes('record')) return [];
  if (tables.length > 1 || /,\s*record\b|\b(?:OR|UNION|EXCEPT|INTERSECT)\b/.test(select)) return undefined;
  const kind =
    /\b(?:WHERE|AND)\s+(?:\w+\.)?kind\s*(?:=\s*(\$\d+\b|'[a-z-]+')|=\s*ANY‹(\$\d+)::text\[\]›|IN\s*‹([^›]+)›)/;
  const [, one, array, list] = kind.exec(select) ?? [];
  const marks = one ?? array ?? list;
  return marks?.split(',').map((mark) => mark.trim());
}
