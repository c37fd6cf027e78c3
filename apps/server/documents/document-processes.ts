import { type ChildProcess, fork } from 'node:child_process';
import { existsSync } from 'node:fs';
import { setPriority } from 'node:os';
import { PassThrough, type Readable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import type { AnswerHeaders, DocumentRequest, FromProcess, ToProcess } from './messages.js';

export interface DocumentAnswer {
  readonly status: number;
  readonly headers: AnswerHeaders;
  /** Destroyed if the process ends before the document is complete. */
  readonly body: Readable;
}

export interface DocumentProcesses {
  /**
   * Sends the request to a process of its own. `whole` is called once, when the response is complete, failed or
   * cancelled: until then the request occupies that process. Rejects if there was no response at all.
   */
  answer(request: DocumentRequest, onDone: () => void): { answer: Promise<DocumentAnswer>; cancel: () => void };
  close(): void;
}

/** Why a process ended without a response, for the log. */
export class DocumentFailed extends Error {}

/**
 * A process that has been idle for five minutes, or has grown this large, is ended; the next document starts another.
 */
const idleMs = 300_000;
const maxProcessBytes = 500 * 1024 * 1024;
const heapMebibytes = 768;
/** A document that takes longer than this is cancelled. */
const timeoutMs = 120_000;
/**
 * A buffer for data the client hasn't read yet, so that a slow client of an ordinary document doesn't occupy a process.
 */
const bodyBufferBytes = 8 * 1024 * 1024;

interface ProcessListeners {
  readonly log: (line: string, more?: Readonly<Record<string, unknown>>) => void;
  readonly damage: (found: string) => void;
}

/**
 * Processes that make documents beside the server: drawing a season takes seconds of processor time, during which the
 * server could answer no page. They start on demand and have a lower priority than the server; a cancelled one is
 * killed, since nothing else stops a drawing halfway. Undefined where they are not built (tests run the sources).
 */
export function documentProcesses(
  flags: readonly string[],
  listeners: ProcessListeners,
): DocumentProcesses | undefined {
  const script = fileURLToPath(new URL('./process.js', import.meta.url));
  if (!existsSync(script)) return undefined;
  const pool = processPool(() => startProcess(script, flags));
  return {
    answer: (request, onDone) => {
      const child = pool.take();
      const giveBack = (memoryBytes: number): void => pool.giveBack(child, memoryBytes);
      return makeDocument(child, request, { ...listeners, onDone, giveBack });
    },
    close: () => pool.close(),
  };
}

function startProcess(script: string, flags: readonly string[]): ChildProcess {
  const child = fork(script, [...flags], {
    execArgv: [`--max-old-space-size=${heapMebibytes}`, '--enable-source-maps'],
    serialization: 'advanced',
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  // A listener for errors outside a request: an unhandled one would end the server.
  child.on('error', () => {});
  try {
    if (child.pid !== undefined) setPriority(child.pid, 10);
  } catch {
    // A system without priorities runs it at the same priority.
  }
  return child;
}

/** Keeps idle processes for the next document, until they have been idle for long or have grown large. */
function processPool(start: () => ChildProcess) {
  const idle = new Map<ChildProcess, NodeJS.Timeout>();
  const all = new Set<ChildProcess>();
  const add = (): ChildProcess => {
    const child = start();
    all.add(child);
    child.once('exit', () => {
      all.delete(child);
      clearTimeout(idle.get(child));
      idle.delete(child);
    });
    return child;
  };
  return {
    take(): ChildProcess {
      const [found] = idle.keys();
      if (!found) return add();
      clearTimeout(idle.get(found));
      idle.delete(found);
      return found;
    },
    giveBack(child: ChildProcess, memoryBytes: number): void {
      if (memoryBytes > maxProcessBytes) child.kill('SIGKILL');
      else idle.set(child, setTimeout(() => child.kill('SIGKILL'), idleMs).unref());
    },
    close(): void {
      for (const child of all) child.kill('SIGKILL');
    },
  };
}

interface RequestListeners extends ProcessListeners {
  readonly onDone: () => void;
  /** The document is complete, and the process may make the next. */
  readonly giveBack: (memoryBytes: number) => void;
}

/** Has one process make one document; its body is passed on piece by piece, as fast as the client reads. */
function makeDocument(
  child: ChildProcess,
  request: DocumentRequest,
  listeners: RequestListeners,
): { answer: Promise<DocumentAnswer>; cancel: () => void } {
  const body = new PassThrough({ highWaterMark: bodyBufferBytes });
  // The code that pipes the body handles its errors; before that there may be no listener.
  body.on('error', () => {});
  const send = (message: ToProcess): void => void child.send(message, () => {});
  let resolveAnswer: (answer: DocumentAnswer) => void = () => {};
  let rejectAnswer: (fault: Error) => void = () => {};
  const answer = new Promise<DocumentAnswer>((resolve, reject) => ([resolveAnswer, rejectAnswer] = [resolve, reject]));
  // It may be cancelled before anything awaits it.
  answer.catch(() => {});

  let isOver = false;
  /** Stops listening to the process; false where that happened before. */
  const end = (): boolean => {
    if (isOver) return false;
    isOver = true;
    clearTimeout(timer);
    child.off('message', onMessage).off('exit', onExit);
    listeners.onDone();
    return true;
  };
  const fail = (why: string): void => {
    if (!end()) return;
    rejectAnswer(new DocumentFailed(why));
    body.destroy(new DocumentFailed(why));
    child.kill('SIGKILL');
  };
  const onExit = (status: number | null, signal: string | null): void =>
    fail(`the process that made it ended with ${status ?? signal}`);
  const onMessage = (message: FromProcess): void => {
    if ('head' in message) resolveAnswer({ ...message.head, body });
    else if ('piece' in message) {
      if (body.write(message.piece)) send({ more: true });
      else body.once('drain', () => send({ more: true }));
    } else if ('log' in message) listeners.log(message.log, message.more);
    else if ('failed' in message) fail(message.failed);
    else if (end()) {
      body.end();
      if (message.end.damage !== undefined) listeners.damage(message.end.damage);
      listeners.giveBack(message.end.memoryBytes);
    }
  };
  const timer = setTimeout(() => fail('it took over two minutes'), timeoutMs).unref();
  child.on('message', onMessage).once('exit', onExit);
  send({ make: request });
  return { answer, cancel: () => fail('the client disconnected') };
}
