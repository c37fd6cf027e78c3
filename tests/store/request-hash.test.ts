import { createHash } from 'node:crypto';
import { expect, test } from '@jest/globals';
import { requestHashOf } from '#libs/store/log/entry-json.js';

test('a repeated request has the hash that older books stored for it', () => {
  // In stored JSON the entry's type has the key `deed`. Hashes were made from it, so it keeps that name.
  const stored = '{"deed":"void","id":"S104","kind":"dispatch","why":"entered twice"}';
  expect(requestHashOf('void', { kind: 'dispatch', id: 'S104', why: 'entered twice' })).toBe(
    createHash('sha256').update(stored).digest('hex'),
  );
});
