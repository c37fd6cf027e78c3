import { runCommand } from './run-command.js';

// A reader such as head may close the pipe early: EPIPE is ignored.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', (fault: NodeJS.ErrnoException) => {
    if (fault.code !== 'EPIPE') throw fault;
  });

process.exitCode = await runCommand(process.argv.slice(2), process);
