import type { Random } from './random.js';

/** Rows as other programs would write them: with various delimiters, line ends, column orders and byte order marks. */
export function csvText(random: Random, rows: readonly Readonly<Record<string, string>>[]): string {
  const semicolons = random.oneIn(3);
  const lineEnd = random.of(['\n', '\r\n']);
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))].sort(() => (random.oneIn(2) ? 1 : -1));
  const lists = ['gatherings', 'carried_from', 'from_lots', 'fill_temps'];
  const cell = (row: Readonly<Record<string, string>>, column: string): string => {
    const text = row[column] ?? '';
    const listed = semicolons && lists.includes(column) ? text.replaceAll(';', '|') : text;
    return /[",;\n]/.test(listed) || random.oneIn(9) ? `"${listed.replaceAll('"', '""')}"` : listed;
  };
  const lines = [
    columns.join(semicolons ? ';' : ','),
    ...rows.map((row) => columns.map((column) => cell(row, column)).join(semicolons ? ';' : ',')),
  ];
  return (random.oneIn(3) ? '\uFEFF' : '') + lines.join(lineEnd) + (random.oneIn(2) ? lineEnd : '');
}
