import { existsSync, readFileSync } from 'node:fs';
import type { Book } from '#libs/store/book.js';

/** The database processes that serve its clients, without its background processes. */
export async function backends(book: Book): Promise<number[]> {
  const rows = await book.read.statement<{ pid: number }>(
    "SELECT pid FROM pg_stat_activity WHERE datname = current_database() AND backend_type = 'client backend'",
  );
  return rows.map((row) => row.pid);
}

/** Processor time of these processes so far, by the kernel's account, in hundredths of a second. */
export const spentMs = (pids: readonly number[]): ReadonlyMap<number, number> =>
  new Map(pids.map((pid) => [pid, spentBy(pid)]));

/** The time spent between two accounts. A process that ended in between counts as idle. */
export function between(before: ReadonlyMap<number, number>, after: ReadonlyMap<number, number>): number {
  let sum = 0;
  for (const [pid, spent] of after) sum += Math.max(0, spent - (before.get(pid) ?? 0));
  return sum;
}

/** Processor time of everything that runs on the machine. */
export function machineMs(): number {
  if (!existsSync('/proc/stat')) return 0;
  const [user = 0, nice = 0, system = 0, , , irq = 0, soft = 0, steal = 0] = readFileSync('/proc/stat', 'utf8')
    .split('\n')[0]!
    .split(/\s+/)
    .slice(1)
    .map(Number);
  return (user + nice + system + irq + soft + steal) * 10;
}

function spentBy(pid: number): number {
  if (!existsSync(`/proc/${pid}/stat`)) return 0;
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
    .replace(/^.*\) /, '')
    .split(' ');
  return (Number(fields[11]) + Number(fields[12])) * 10;
}
