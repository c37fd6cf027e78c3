import { describe, expect, test } from '@jest/globals';
import { apiSuite } from '../support/api-suite.js';
import { engines } from '../support/engines.js';

interface Refused {
  readonly detail: string;
  readonly faults: readonly { readonly line: number }[];
  readonly faultsInAll?: number;
}

describe.each(engines())('on $name', (engine) => {
  const keyed = apiSuite(engine);
  const imported = (payload: string, plural = 'gatherings') =>
    keyed.at.web.inject({
      method: 'POST',
      url: `/api/imports/${plural}`,
      payload,
      headers: { 'content-type': 'text/csv', authorization: `Bearer ${keyed.keys['maker']}` },
    });
  const header = 'id,gathered_at,source,volume';

  test.each<[string, string, string]>([
    [
      'a header of commas',
      ','.repeat(4_000_000),
      'Line 1, file: expected at most 200 columns, got more than that in one row',
    ],
    ['a row of commas', `${header}\n${','.repeat(4_000_000)}`, 'Line 2, file: expected at most 200 columns'],
    ['a header of semicolons', ';'.repeat(4_000_000), 'Line 1, file: expected at most 200 columns'],
    [
      'a column name of four megabytes',
      `${'x'.repeat(4_000_000)},id\n`,
      'Line 1, file: expected a row of at most 20,000',
    ],
    [
      'a row of four megabytes',
      `${header}\n"${'x'.repeat(4_000_000)}",9 gal\n`,
      'Line 2, file: expected a row of at most',
    ],
    [
      'a cell of nearly a megabyte',
      `${header}\nW1,2026-03-19T15:00,${'x'.repeat(900_000)},9 gal\n`,
      'at most 2,000 letters',
    ],
    ['a million rows', `${header}\n${'a,b\n'.repeat(1_000_000)}`, 'at most 50,000 rows: split it into several files'],
    ['a million rows of an old machine', `${header}\r${'a,b\r'.repeat(1_000_000)}`, 'at most 50,000 rows'],
  ])('%s is refused without delay, with a short answer', async (_, file, sentence) => {
    const heap = process.memoryUsage().heapUsed;
    const began = performance.now();
    const answer = await imported(file);
    expect(performance.now() - began).toBeLessThan(5000);
    expect(answer.statusCode).toBe(422);
    expect(answer.json<Refused>().detail).toContain(sentence);
    expect(answer.body.length).toBeLessThan(20_000);
    expect(process.memoryUsage().heapUsed - heap).toBeLessThan(150 * 1024 * 1024);
  });

  const wrong = (rows: number) =>
    [header, ...Array.from({ length: rows }, (_, n) => `W${n},2026-03-19T15:00,upper lines,${n}`)].join('\n');

  test('packs with more jars in total than one file may create are refused before any is created', async () => {
    const packs = (jars: number) =>
      Array.from(
        { length: 5 },
        (_, n) => `26077A-${n + 20},26077A:1 gal,2026-03-19T1${n}:00,glass jar 8 fl oz,${jars},WE`,
      );
    const file = (jars: number) => ['lot,from_lots,packed_at,container,jars,by', ...packs(jars)].join('\n');
    const began = performance.now();
    const answer = await imported(file(50_000), 'packs');
    expect(performance.now() - began).toBeLessThan(5000);
    expect(answer.statusCode).toBe(422);
    expect(answer.json<Refused>().detail).toContain(
      'Line 1, jars: expected at most 200,000 jars in one file: split it into several files, got 250,000',
    );
    expect(answer.json<Refused>().faults).toHaveLength(1);
  });

  test('of three hundred faults the first hundred are listed and the rest are counted', async () => {
    const answer = await imported(wrong(300));
    const { detail, faults, faultsInAll } = answer.json<Refused>();
    expect([answer.statusCode, faults.length, faultsInAll]).toEqual([422, 100, 300]);
    expect(faults.map((fault) => fault.line)).toEqual(Array.from({ length: 100 }, (_, n) => n + 2));
    expect(detail).toMatch(/And 200 more\.$/);
    const few = (await imported(wrong(3))).json<Refused>();
    expect([few.faults.length, few.faultsInAll]).toEqual([3, undefined]);
  });

  const boundary = 'b0undary';
  const part = (name: string, text: string) =>
    `--${boundary}\r\nContent-Disposition: form-data; name="${name}"\r\n\r\n${text}\r\n`;
  const previewed = (rows: string) =>
    keyed.at.web.inject({
      method: 'POST',
      url: '/files/preview',
      payload: `${part('kind', 'gatherings')}${part('rows', rows)}--${boundary}--\r\n`,
      headers: {
        'content-type': `multipart/form-data; boundary=${boundary}`,
        authorization: `Bearer ${keyed.keys['maker']}`,
      },
    });

  test('the page of a sound file shows its first rows, each value under its label', async () => {
    const row = (n: number) => `V${n},2026-03-1${n}T15:00,upper lines,${n}0 gal`;
    const shown = async (rows: number[]) =>
      (await previewed([header, ...rows.map(row)].join('\n'))).body
        .replace(/<[^>]+>|&ensp;|\s/g, ' ')
        .replace(/ +/g, ' ');
    expect(await shown([1, 2])).toMatch(
      /The rows line 2 Id V1 Gathered at 2026-03-11T15:00 Where from upper lines How much sap 10 gal line 3 Id V2/,
    );
    const six = await shown([1, 2, 3, 4, 5, 6]);
    expect(six).toContain('The first 5 of 6 rows');
    expect(six).not.toContain('line 7');
    // Longer than what is read for the first rows, which ends in the middle of one.
    const long = Array.from(
      { length: 3000 },
      (_, n) => `L${n},2026-03-11T15:00,upper lines of the hill,${(n % 90) + 1} gal`,
    );
    const answer = await previewed([header, ...long].join('\n'));
    expect(answer.body).toContain('The first 5 of 3000 rows');
  });

  test('the page lists the same', async () => {
    const answer = await previewed(wrong(300));
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain('300 faults: nothing was saved');
    expect(answer.body).toContain('And 200 more.');
    expect(answer.body.match(/<li>Line /g)).toHaveLength(100);
  });

  test('refusals by rules are listed and counted in the same way', async () => {
    const rows = Array.from({ length: 110 }, (_, n) => `R${n},${keyed.day.cold},1,2026-05-20T09:00,Millrace Green`);
    const answer = await imported(['id,lot,jars,sent_at,to', ...rows].join('\n'), 'dispatches');
    expect(answer.statusCode).toBe(409);
    expect(answer.json<Refused>().detail).toMatch(/And 10 more\.$/);
  });

  test('a body of thousands of unknown fields gets a short answer', async () => {
    const fields = Object.fromEntries(Array.from({ length: 20_000 }, (_, n) => [`field${n}`, 'x']));
    const answer = await keyed.sent('/api/gatherings', fields);
    expect(answer.statusCode).toBe(422);
    expect(answer.body.length).toBeLessThan(150_000);
    expect(answer.json<Refused>().faultsInAll).toBeGreaterThan(20_000);
  });
});
