/** Log lines of requests are collected this long, since each write is a system call and cost a twentieth of a page. */
const gatherMs = 50;
let waiting: string[] = [];
let timer: NodeJS.Timeout | undefined;

/** A line for whoever started the server, at once and after all that came before it. */
export function say(line: string): void {
  writeOut(line);
}

/** A line that may wait a moment; it is written before the process ends. */
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

// Pipes and files are written at once on Linux, so that nothing is lost here.
process.on('exit', () => writeOut());
