import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from '@jest/globals';
import { templatePath } from '#libs/records/package-root.js';
import { aServer } from './a-server.js';

test('every style sheet of the book goes out in one answer, and once a phone has it nothing is sent again', async () => {
  const server = await aServer();
  try {
    const { body, headers, statusCode } = await server.web.inject('/assets/book.css');
    expect([statusCode, headers['content-type']]).toEqual([200, 'text/css; charset=utf-8']);
    const folder = templatePath('pages/styles');
    const sheets = readdirSync(folder);
    expect(sheets.length).toBeGreaterThan(5);
    for (const sheet of sheets) expect(body).toContain(readFileSync(join(folder, sheet), 'utf8'));
    expect(body.length).toBe(
      sheets.reduce((sum, sheet) => sum + readFileSync(join(folder, sheet), 'utf8').length, 0) + sheets.length - 1,
    );
    const again = await server.web.inject({
      url: '/assets/book.css',
      headers: { 'if-none-match': String(headers['etag']) },
    });
    expect([again.statusCode, again.body]).toEqual([304, '']);
  } finally {
    await server.close();
  }
});
