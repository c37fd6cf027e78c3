/**
 * Says on a terminal's standard error, once a second, that a command is still at work; a pipe or a file gets only what
 * matters. Answers what takes the line away again.
 */
export function showProgress(name: string, now: () => number = Date.now): () => void {
  const { stderr } = process;
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
