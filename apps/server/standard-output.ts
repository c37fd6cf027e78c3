/**
 * Log lines of requests are collected for this long, since each write is a system call and cost a twentieth of a page.
 */
const gatherMs = 50;
let waiting: string[] = [];
let timer: NodeJS.Timeout | undefined;

/** Prints a line for whoever started the server, at once and after all earlier ones. */
export function say(line: string): void {
  writeOut(line);
}

/** Prints a line within a moment, and in any case before the process ends. */
export function printSoon(line: string): void {
  waiting.push(line);
  timer ??= setTimeout(() => writeOut(), gatherMs).unref();
}

function writeOut(...last: readonly string[]): void {
  clearTimeout(timer);
  timer = undefined;
  const lines = [...waiting, ...last];
  waiting = [];
  if (lines.length > 0) process.stdout.write(`${lines.join('\n')}\n`);
}

// On Linux, writes to pipes and files are synchronous, so that nothing is lost here.
process.on('exit', () => writeOut());
