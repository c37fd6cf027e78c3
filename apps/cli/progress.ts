import type { Terminal } from './terminal.js';

/**
 * Shows on a terminal's standard error, once a second, that a command is still working; nothing is written to a pipe or
 * a file. Returns a function that clears the line.
 */
export function showProgress({ stderr }: Terminal, name: string, now: () => number = Date.now): () => void {
  if (!stderr.isTTY) return () => {};
  const began = now();
  let shown = false;
  const timer = setInterval(() => {
    stderr.write(`\rbook ${name}: working, ${Math.round((now() - began) / 1000)} s`);
    shown = true;
  }, 1000);
  timer.unref();
  return () => {
    clearInterval(timer);
    if (shown) stderr.write('\r\x1b[K');
  };
}
