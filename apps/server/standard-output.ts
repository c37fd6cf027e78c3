/**
 * Log lines of requests are collected for this long, since each write is a system call and cost a twentieth of a page.
 */
const bufferMs = 50;
let waiting: string[] = [];
let timer: NodeJS.Timeout | undefined;

/** Prints a line for whoever started the server, at once and after all earlier ones. */
export function printLine(line: string): void {
  flush(line);
}

/** Prints a line within a moment, and in any case before the process ends. */
export function printBuffered(line: string): void {
  waiting.push(line);
  timer ??= setTimeout(() => flush(), bufferMs).unref();
}

function flush(...added: readonly string[]): void {
  clearTimeout(timer);
  timer = undefined;
  const lines = [...waiting, ...added];
  waiting = [];
  if (lines.length > 0) process.stdout.write(`${lines.join('\n')}\n`);
}

// On Linux, writes to pipes and files are synchronous, so that nothing is lost here.
process.on('exit', () => flush());
