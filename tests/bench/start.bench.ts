import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { packageRoot } from '#libs/package-root.js';
import { inFolder, type Measured, milliseconds } from './bench.js';

export const name =
  'start: the command line at its help and at a small book, in ms; Node itself with nothing to do beside it';

const program = join(packageRoot, 'dist', 'apps', 'cli', 'main.js');
/** The longest a command may take, in ms: help, and any other with a small book. */
const goals = { help: 200, others: 300 };

/**
 * The ratio is of the slowest to its own goal, so the goal is 1. A goal as a multiple of Node's own start would vary
 * with it: on one idle machine that takes 30 to 45 ms. Node's time is printed too: over 60 ms, the machine was busy.
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
      ratio: Math.max(best.help / goals.help, Math.max(best.one, best.list, best.trace) / goals.others),
      goal: 1,
      lines: [
        `Node with nothing to do ${ms(best.node)}; best of 9, each in turn`,
        `book --help ${ms(best.help)} (goal under ${goals.help}), book act --help ${ms(best.one)}`,
        `book house list ${ms(best.list)} (goal under ${goals.others}), book trace 26065A-1 ${ms(best.trace)}`,
      ],
    };
  });
}
