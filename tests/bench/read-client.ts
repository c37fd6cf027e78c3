import { connect } from 'node:net';
import { parentPort, workerData } from 'node:worker_threads';
import type { Ask } from './reads.js';

// Readers in a thread of their own: so many at once, to the servers in turn, each sending the next request when the
// last is answered. They use bare sockets, since on two cores the readers' processor time reduces what is measured.
// Every response must be complete, by its length, and contain the text that only the right one has.
interface ClientRequest {
  readonly ports: readonly number[];
  readonly asks: readonly Ask[];
  readonly atOnce: number;
}
const { ports, asks, atOnce } = workerData as ClientRequest;
const requests = asks.map(({ path, word, carries }) => ({
  path,
  bytes: Buffer.from([`GET ${path} HTTP/1.1`, 'Host: 127.0.0.1', ...carries, '', ''].join('\r\n')),
  word: Buffer.from(word),
}));
const spentBefore = process.cpuUsage();
const began = performance.now();
let next = 0;
await Promise.all(Array.from({ length: atOnce }, (_, client) => readOn(ports[client % ports.length]!)));
const spent = process.cpuUsage(spentBefore);
parentPort?.postMessage({
  milliseconds: performance.now() - began,
  processorMs: (spent.user + spent.system) / 1000,
});

/** One keep-alive connection, until every request is sent. */
function readOn(port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    const socket = connect({ host: '127.0.0.1', port, noDelay: true });
    let request: (typeof requests)[number] | undefined;
    let answer = Buffer.alloc(0);
    const ask = (): void => {
      request = requests[next++];
      if (request) socket.write(request.bytes);
      else socket.end(resolve);
    };
    const giveUp = (why: string): void => {
      socket.destroy();
      reject(new Error(`${request?.path}: ${why}`));
    };
    socket.on('connect', ask);
    socket.on('error', (fault) => giveUp(fault.message));
    socket.on('close', () => request && giveUp('closed before it was answered'));
    socket.on('data', (some) => {
      answer = answer.length === 0 ? some : Buffer.concat([answer, some]);
      const head = answer.indexOf('\r\n\r\n');
      if (head < 0) return;
      const text = answer.toString('latin1', 0, head);
      const length = Number(/\r\ncontent-length: (\d+)/i.exec(text)?.[1] ?? NaN);
      if (!text.startsWith('HTTP/1.1 200') || Number.isNaN(length)) return giveUp(text.slice(0, 300));
      if (answer.length < head + 4 + length) return;
      if (answer.length > head + 4 + length) return giveUp('more was answered than was asked for');
      if (request && answer.indexOf(request.word, head) < 0) return giveUp(`without ${request.word.toString()}`);
      answer = Buffer.alloc(0);
      ask();
    });
  });
}
