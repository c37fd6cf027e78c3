// Runs the server as a child process and starts it again when it exits to restore a backup; the next start does that
// before it opens the book. On any other exit this process exits with the same status.
import { spawn } from 'node:child_process';

/** The module for `--import` that makes a server's stack traces point at its TypeScript lines. */
export const sourceLines = new URL('./source-lines.mjs', import.meta.url).href;

/** Exit status by which the server asks to be started again (apps/server/main.ts). */
const startAgain = 75;

/**
 * @param {string} script path of the built server
 * @param {readonly string[]} args its flags
 */
export function restartOnExit(script, args) {
  const server = spawn(process.execPath, ['--import', sourceLines, script, ...args], {
    stdio: ['inherit', 'inherit', 'inherit', 'ipc'],
  });
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'];
  const pass = (signal) => server.kill(signal);
  for (const signal of signals) process.on(signal, pass);
  server.once('exit', (status, signal) => {
    for (const each of signals) process.removeListener(each, pass);
    if (status === startAgain) restartOnExit(script, args);
    else if (signal) process.kill(process.pid, signal);
    else process.exit(status ?? 1);
  });
}
