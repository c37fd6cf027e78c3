import { createServer } from 'node:http';
import { startPostgres } from './start-postgres.mjs';

/**
 * One PostgreSQL for a whole run of jest, in its main process, so that it outlives each worker. It starts when the
 * first test file asks for its address (`engines.ts`): other runs don't pay for it.
 */
export async function setUpRun() {
  let starting;
  const request = createServer((_, answer) => {
    starting ??= startPostgres(forManySmallBooks);
    starting.then(
      ({ url }) => answer.end(url),
      (fault) => answer.writeHead(500).end(String(fault)),
    );
  });
  await new Promise((resolve) => request.listen(0, '127.0.0.1', resolve));
  process.env['BOILBOOK_TEST_POSTGRES'] = `http://127.0.0.1:${request.address().port}/`;
  return async () => {
    request.close();
    await starting?.then(({ stop }) => stop());
  };
}

/**
 * Most of the time goes into making, copying and opening books, not into asking them: with few buffers there is less to
 * look through at each copy, and small reads need no process of their own.
 */
const forManySmallBooks = ['shared_buffers=16MB', 'io_method=sync'];
