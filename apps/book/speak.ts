import { once } from 'node:events';
import type { Said } from './command.js';

/** Prints what a command has to say, for people or as one JSON value; answers the exit status. */
export async function speak(said: Said, json: boolean): Promise<number> {
  for (const warning of said.warnings ?? []) process.stderr.write(`${warning}\n`);
  if (said.rows) await tellRows(said, said.rows, json);
  else await print(json ? `${JSON.stringify(said.json, null, 2)}\n` : said.lines.map((line) => `${line}\n`).join(''));
  return said.exit ?? 0;
}

/** Row by row, some at a time and never faster than the reader takes them: a million jars are not held. */
async function tellRows(said: Said, { name, tellEach }: NonNullable<Said['rows']>, json: boolean): Promise<void> {
  let page = json
    ? `${JSON.stringify(said.json, null, 2).slice(0, -2)},\n  ${JSON.stringify(name)}: [`
    : said.lines.map((line) => `${line}\n`).join('');
  let between = '\n    ';
  await tellEach(async (row) => {
    page += json ? `${between}${JSON.stringify(row.json)}` : `${row.line}\n`;
    between = ',\n    ';
    if (page.length < pageLetters) return;
    await print(page);
    page = '';
  });
  await print(json ? `${page}\n  ]\n}\n` : page);
}
const pageLetters = 65_536;

async function print(text: string): Promise<void> {
  const { stdout } = process;
  // Where the reader went away there is nothing to wait for: the fault is heard above.
  if (!stdout.destroyed && !stdout.write(text)) await once(stdout, 'drain').catch(() => undefined);
}
