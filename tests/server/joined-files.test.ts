import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Script } from 'node:vm';
import { expect, test } from '@jest/globals';
import { templatePath } from '#libs/package-root.js';
import { startServer } from '../support/server.js';

test.each([
  ['style sheet', '/assets/book.css', 'text/css', 'pages/styles', ''],
  ['script', '/assets/book.js', 'application/javascript', 'pages/scripts', "'use strict';\n(() => {\n})();\n"],
])(
  'every %s of the book is sent in one response, and is not sent again to a phone that has it',
  async (_what, url, type, name, around) => {
    const server = await startServer();
    try {
      const { body, headers, statusCode } = await server.web.inject(url);
      expect([statusCode, headers['content-type']]).toEqual([200, `${type}; charset=utf-8`]);
      const folder = templatePath(name);
      const files = readdirSync(folder).map((file) => readFileSync(join(folder, file), 'utf8'));
      expect(files.length).toBeGreaterThan(5);
      // Each file complete and in one piece, except for its comments and indentation.
      const sent = codeOf(body).join('\n');
      for (const file of files) expect(sent).toContain(codeOf(file).join('\n'));
      const lines = files.reduce((sum, file) => sum + codeOf(file).length, 0);
      expect(codeOf(body)).toHaveLength(lines + codeOf(around).length);
      expect(body).not.toMatch(/^\s*(\/\/|\/\*)/m);
      const again = await server.web.inject({ url, headers: { 'if-none-match': String(headers['etag']) } });
      expect([again.statusCode, again.body]).toEqual([304, '']);
    } finally {
      await server.close();
    }
  },
);

/** Lines of a file that are neither empty nor only a comment. */
function codeOf(text: string): string[] {
  let inComment = false;
  return text.split('\n').flatMap((line) => {
    const code = line.trim();
    const begins = !inComment && code.startsWith('/*');
    const isComment = inComment || begins || code.startsWith('//');
    if (inComment || begins) inComment = !code.endsWith('*/');
    return code === '' || isComment ? [] : [code];
  });
}

test('the joined script is valid: no two of its files declare the same name', async () => {
  const server = await startServer();
  try {
    const { body } = await server.web.inject('/assets/book.js');
    expect(() => new Script(body)).not.toThrow();
    const folder = templatePath('pages/scripts');
    const text = readdirSync(folder).map((file) => readFileSync(join(folder, file), 'utf8'));
    const names = [...text.join('\n').matchAll(/^(?:async )?(?:function|const|let) (\w+)/gm)].map((found) => found[1]);
    expect(names.length).toBeGreaterThan(20);
    expect(names).toEqual([...new Set(names)]);
  } finally {
    await server.close();
  }
});
