import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { inProcessTerminal, setUp, type Terminal } from '../support/command-line.js';

// What clears a screen, and what renames a terminal's window.
const hostile = 'upper \u001b[2Jlines\u001b]0;x\u0007';

let terminal: Terminal;
beforeAll(async () => {
  terminal = inProcessTerminal();
  await terminal.json(...setUp);
  const rows = `id,gathered_at,source,volume,by\nZZ1,2026-03-09T16:00,${hostile},9 gal,WE\n`;
  writeFileSync(terminal.path('sap.csv'), rows);
  await terminal.json('import', 'gatherings', terminal.path('sap.csv'));
}, 120_000);
afterAll(() => terminal.remove());

test('no control character of the record, a file or a mistyped word reaches the terminal', async () => {
  writeFileSync(terminal.path('wrong.csv'), `id,gathered_at,source,volume,by\nZZ2,${hostile},upper,9 gal,WE\n`);
  const commandLines = [
    ['log', '--out', '-'],
    ['log', '--out', '-', '--json'],
    ['trace', 'ZZ1'],
    ['trace', hostile],
    ['import', 'gatherings', terminal.path('wrong.csv')],
    [hostile],
  ];
  const seen: string[] = [];
  for (const argv of commandLines) {
    const { out, err } = await terminal.run(...argv);
    seen.push(out + err);
    expect({ words: argv, controls: /[^\P{Cc}\n\t]/u.exec(out + err) }).toEqual({ words: argv, controls: null });
  }
  // The record is there all the same, its control characters spelled out as JSON does.
  expect(seen[0]).toContain(String.raw`upper \u001b[2Jlines\u001b]0;x\u0007`);
  expect(seen[3]).toContain('upper [2Jlines');
});
