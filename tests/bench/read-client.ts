import { Agent, get } from 'node:http';
import { parentPort, workerData } from 'node:worker_threads';

// Readers in a thread of their own: as many at once as asked, at the servers in turn, each the next path when the
// last is answered. Every answer must be whole and of the jar that was asked for.
interface Asked {
  readonly ports: readonly number[];
  /** Path and a word that its answer must hold. */
  readonly asks: readonly (readonly [path: string, word: string])[];
  readonly key: string | undefined;
  readonly atOnce: number;
}
const { ports, asks, key, atOnce } = workerData as Asked;
const agent = new Agent({ keepAlive: true, maxSockets: atOnce });
const began = performance.now();
let next = 0;
await Promise.all(
  Array.from({ length: atOnce }, async (_, client) => {
    for (let n = next++; n < asks.length; n = next++) await ask(ports[client % ports.length]!, ...asks[n]!);
  }),
);
agent.destroy();
parentPort?.postMessage({ milliseconds: performance.now() - began });

function ask(port: number, path: string, word: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const headers = key === undefined ? {} : { authorization: `Bearer ${key}` };
    get({ host: '127.0.0.1', port, path, agent, headers }, (answer) => {
      let page = '';
      answer.setEncoding('utf8');
      answer.on('data', (some: string) => (page += some));
      answer.on('end', () =>
        answer.statusCode === 200 && page.includes(word)
          ? resolve()
          : reject(new Error(`${path}: ${answer.statusCode} ${page.slice(0, 200)}`)),
      );
    }).on('error', reject);
  });
}
