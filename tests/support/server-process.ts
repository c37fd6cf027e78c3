import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { packageRoot } from '#libs/package-root.js';
import { whereBooksAre } from './where-books-are.mjs';

const folders: string[] = [];
export const children: ChildProcess[] = [];

/** Ends the processes started here, and deletes their folders. */
export function endAll(): void {
  for (const child of children) child.kill('SIGKILL');
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
}

export interface Started {
  readonly child: ChildProcess;
  readonly address: string;
  readonly output: () => string;
  readonly ended: Promise<number | null>;
}

/**
 * The built server as a process of its own, on a port the system picks. `root` is the folder of another copy of the
 * program; an owned book prints no setup code.
 */
export async function started(
  folder: string,
  env: Record<string, string> = {},
  flags: readonly string[] = [],
  { root = packageRoot, isOwned = false }: { readonly root?: string; readonly isOwned?: boolean } = {},
): Promise<Started> {
  const child = spawn(process.execPath, [join(root, 'dist/apps/server/main.js'), ...flags], {
    env: {
      PATH: process.env['PATH'],
      BOILBOOK_DATA: folder,
      BOILBOOK_PORT: '0',
      BOILBOOK_TIME_ZONE: 'America/New_York',
      ...env,
    },
  });
  children.push(child);
  let printed = '';
  const ended = new Promise<number | null>((resolve) => child.once('exit', (status) => resolve(status)));
  const address = await new Promise<string>((resolve, reject) => {
    const hear = (bytes: Buffer): void => {
      printed += bytes.toString();
      const found = /^Boilbook \S+: (https?:\/\/\S+)\n/m.exec(printed)?.[1];
      // While nobody owns the book, the setup code is printed last.
      if (found && (isOwned || printed.includes('valid for one hour: '))) resolve(found);
    };
    child.stdout.on('data', hear);
    child.stderr.on('data', hear);
    void ended.then((status) => reject(new Error(`ended with ${status}: ${printed}`)));
  });
  return { child, address, output: () => printed, ended };
}

export function temporaryFolder(): string {
  const folder = mkdtempSync(join(whereBooksAre(), 'boilbook-listening-'));
  folders.push(folder);
  return folder;
}

/** The processes started by this one that still run. */
export function processesOf({ child }: Started): number[] {
  return execFileSync('ps', ['-A', '-o', 'pid=,ppid=,stat='])
    .toString()
    .split('\n')
    .map((line) => line.trim().split(/\s+/))
    .filter(([, parent, state]) => Number(parent) === child.pid && !state?.startsWith('Z'))
    .map(([pid]) => Number(pid));
}
