import { Agent, get } from 'node:http';
import { parentPort, workerData } from 'node:worker_threads';

// Phones that scan, in a thread of their own: as many at once as asked, each the next code when the last is answered.
const { port, codes, atOnce } = workerData as { port: number; codes: string[]; atOnce: number };
const agent = new Agent({ keepAlive: true, maxSockets: atOnce });
const began = performance.now();
let next = 0;
let bytes = 0;
await Promise.all(
  Array.from({ length: atOnce }, async () => {
    for (let n = next++; n < codes.length; n = next++) bytes += await scan(codes[n]!);
  }),
);
agent.destroy();
parentPort?.postMessage({ milliseconds: performance.now() - began, bytes });

function scan(code: string): Promise<number> {
  return new Promise((resolve, reject) => {
    get({ host: '127.0.0.1', port, path: `/J/${code}`, agent }, (answer) => {
      let page = '';
      answer.setEncoding('utf8');
      answer.on('data', (some: string) => (page += some));
      answer.on('end', () => {
        // The page of the jar and no other: a fast answer that is wrong is no answer.
        if (answer.statusCode === 200 && page.includes(`${code.slice(0, 4)}-${code.slice(4)}`)) resolve(page.length);
        else reject(new Error(`${code}: ${answer.statusCode} ${page.slice(0, 200)}`));
      });
    }).on('error', reject);
  });
}
