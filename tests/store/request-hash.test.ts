import { createHash } from 'node:crypto';
import { expect, test } from '@jest/globals';
import { requestHashOf } from '#libs/store/log/entry-json.js';

test('a request has the same hash as in books that hold it already, whose key for its type is never renamed', () => {
  const stored = '{"deed":"void","id":"S104","kind":"dispatch","why":"entered twice"}';
  expect(requestHashOf('void', { kind: 'dispatch', id: 'S104', why: 'entered twice' })).toBe(
    createHash('sha256').update(stored).digest('hex'),
  );
});
