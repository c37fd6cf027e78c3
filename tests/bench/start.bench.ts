import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { packageRoot } from '#libs/package-root.js';
import { inFolder, type Measured, milliseconds } from './bench.js';

export const name = 'start: the command line at its help and at a small book, against Node itself with nothing to do';

const program = join(packageRoot, 'dist', 'apps', 'cli', 'main.js');
/** What a command may take, in ms on an idle machine: help, and any other before it reads the book. */
const goals = { help: 200, others: 300 };

/**
 * The ratio is of a command that opens a book. Its goal is in Node's own starts, since other work on the machine
 * falls on both: 300 ms where Node takes 45.
 */
export async function run(): Promise<Measured> {
  return inFolder(async (folder) => {
    const start = (...args: string[]) =>
      milliseconds(async () => {
        const done = spawnSync(process.execPath, args, {
          env: { PATH: process.env['PATH'], BOILBOOK_DATA: folder },
        });
        if (done.status !== 0) throw new Error(`${args.join(' ')}: ${done.stderr.toString()}`);
      });
    await start(program, 'demo');
    const best = { node: Infinity, help: Infinity, one: Infinity, trace: Infinity, list: Infinity };
    for (let round = 0; round < 9; round++) {
      best.node = Math.min(best.node, await start('-e', '0'));
      best.help = Math.min(best.help, await start(program, '--help'));
      best.one = Math.min(best.one, await start(program, 'act', '--help'));
      best.list = Math.min(best.list, await start(program, 'house', 'list'));
      best.trace = Math.min(best.trace, await start(program, 'trace', '26065A-1'));
    }
    const ms = (value: number): string => `${value.toFixed(0)} ms`;
    return {
      ratio: best.list / best.node,
      goal: goals.others / 45,
      lines: [
        `Node with nothing to do ${ms(best.node)}; best of 9, each in turn`,
        `book --help ${ms(best.help)} (goal under ${goals.help}), book act --help ${ms(best.one)}`,
        `book house list ${ms(best.list)} (goal under ${goals.others}), book trace 26065A-1 ${ms(best.trace)}`,
      ],
    };
  });
}
