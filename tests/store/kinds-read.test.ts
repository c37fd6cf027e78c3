import { describe, expect, test } from '@jest/globals';
import { kindsRead } from '#libs/store/connection/kinds-read.js';

describe('Which kinds of records a statement can read', () => {
  test.each<[string, string, (string | number)[], string[] | undefined]>([
    [
      'one by its place',
      'SELECT * FROM record WHERE sugarhouse = ? AND kind = ? AND id = ?',
      ['h', 'boil', 'B'],
      ['boil'],
    ],
    ['one by its number', 'SELECT * FROM record WHERE kind = $2 AND sugarhouse = $1', ['h', 'pack'], ['pack']],
    [
      'one by its text',
      `SELECT * FROM record WHERE sugarhouse = ? AND kind = 'draw' AND body LIKE '%(x OR y)%'`,
      ['h'],
      ['draw'],
    ],
    ['several', 'SELECT * FROM record WHERE lot = ?1 AND kind IN (?2, ?3)', ['L', 'draw', 'line'], ['draw', 'line']],
    ['OR in brackets', `SELECT * FROM record WHERE kind = ? AND (body = 'a' OR typed = 'b')`, ['boil'], ['boil']],
    [
      'those of a subselect too',
      `SELECT * FROM record WHERE kind = 'boil' AND (id = ? OR EXISTS (SELECT 1 FROM record logged WHERE logged.kind = 'line'))`,
      ['B'],
      ['line', 'boil'],
    ],
    ['none where it reads no records', 'SELECT * FROM lot WHERE kind = ?', ['boil'], []],
    ['any without a kind', 'SELECT * FROM record WHERE sugarhouse = ?', ['h'], undefined],
    ['any with OR', 'SELECT * FROM record WHERE kind = ? OR lot = ?', ['boil', 'L'], undefined],
    [
      'any where only the brackets demand one',
      `SELECT * FROM record WHERE lot = ? AND (kind = 'boil' OR id = ?)`,
      ['L', 'B'],
      undefined,
    ],
    ['any but one', `SELECT * FROM record WHERE kind <> 'boil' AND NOT kind = 'pack'`, [], undefined],
    [
      'any of a join',
      `SELECT record.* FROM lot JOIN record ON record.lot = lot.code WHERE lot.kind = 'boil'`,
      [],
      undefined,
    ],
    [
      'any of a subselect',
      `SELECT * FROM lot WHERE code IN (SELECT lot FROM record WHERE sugarhouse = ?)`,
      ['h'],
      undefined,
    ],
    [
      'any of a union',
      `SELECT id FROM record WHERE kind = 'boil' UNION SELECT id FROM record WHERE lot = ?`,
      ['L'],
      undefined,
    ],
    ['any where it writes', 'DELETE FROM record WHERE kind = ?', ['boil'], undefined],
  ])('%s', (_, text, values, kinds) => expect(kindsRead(text, values)).toEqual(kinds));

  test('a list of PostgreSQL, which is one value', () =>
    expect(
      kindsRead('SELECT * FROM record WHERE lot = $1 AND kind = ANY($2::text[])', ['L', ['draw', 'line'] as never]),
    ).toEqual(['draw', 'line']));
});
