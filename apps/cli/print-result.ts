import { once } from 'node:events';
import type { Writable } from 'node:stream';
import type { CommandOutput } from './command.js';
import type { Terminal } from './terminal.js';

/**
 * Prints the output of a command, for people or as one JSON value; returns the exit status. Where a document took
 * standard output, the sentences go to standard error.
 */
export async function printResult(
  { stdout, stderr }: Terminal,
  output: CommandOutput,
  { json, stdoutTaken }: { readonly json: boolean; readonly stdoutTaken: boolean },
): Promise<number> {
  for (const warning of output.warnings ?? []) stderr.write(`${stripControls(warning)}\n`);
  if (stdoutTaken) {
    for (const line of output.lines) stderr.write(`${stripControls(line)}\n`);
    return output.exit ?? 0;
  }
  if (output.rows) await printRows(stdout, output, output.rows, json);
  else
    await print(
      stdout,
      json ? `${JSON.stringify(output.json, null, 2)}\n` : output.lines.map((line) => `${line}\n`).join(''),
      json,
    );
  return output.exit ?? 0;
}

/** Prints rows in batches and waits for the reader, since a million jars would not fit into memory. */
async function printRows(
  stdout: Writable,
  output: CommandOutput,
  { name, forEachRow }: NonNullable<CommandOutput['rows']>,
  json: boolean,
): Promise<void> {
  let batch = json
    ? `${JSON.stringify(output.json, null, 2).slice(0, -2)},\n  ${JSON.stringify(name)}: [`
    : output.lines.map((line) => `${line}\n`).join('');
  let separator = '\n    ';
  await forEachRow(async (row) => {
    batch += json ? `${separator}${JSON.stringify(row.json)}` : `${row.line}\n`;
    separator = ',\n    ';
    if (batch.length < batchLetters) return;
    await print(stdout, batch, json);
    batch = '';
  });
  await print(stdout, json ? `${batch}\n  ]\n}\n` : batch, json);
}
const batchLetters = 65_536;

async function print(stdout: Writable, text: string, json: boolean): Promise<void> {
  // A reader that has gone never drains; its error is handled elsewhere.
  if (!stdout.destroyed && !stdout.write(json ? escapeControls(text) : stripControls(text)))
    await once(stdout, 'drain').catch(() => undefined);
}

/** Removes control characters, since text that others typed could move the cursor or change the terminal's title. */
export const stripControls = (text: string): string => text.replace(/[^\P{Cc}\n\t]/gu, '');

/** Escapes U+007F to U+009F, which JSON.stringify leaves as they are. */
const escapeControls = (json: string): string =>
  json.replace(/[\u007f-\u009f]/g, (letter) => `\\u00${letter.charCodeAt(0).toString(16)}`);
