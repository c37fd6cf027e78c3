import { createWriteStream, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PassThrough } from 'node:stream';
import { finished } from 'node:stream/promises';
import { inflateRawSync } from 'node:zlib';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import ExcelJS from 'exceljs';
import { writeWorkbook } from '#libs/reports/spreadsheet/workbook.js';

/** Sheets from our own writer, read back by an independent library. */
const folder = mkdtempSync(join(tmpdir(), 'boilbook-workbook-'));
const file = join(folder, 'book.xlsx');
const hostile = [
  '=1+1',
  '<b>&amp;"\'',
  'a\u0000b\u001fc',
  '_x0041_',
  '\ud83c\udf41 syrup',
  '\ud83c alone',
  ' two  spaces ',
  'line\nline',
];
const about = { title: 'A & B <season>', subject: 'Times', creator: 'WE', createdAt: new Date('2026-04-20T12:00:00Z') };

beforeAll(async () => {
  const rows = Array.from({ length: 5000 }, (_, n) => [
    `row ${n}`,
    n / 8,
    new Date(Date.UTC(2026, 2, 18, 14, n % 60)),
    null,
  ]);
  const columns = ['Text', 'Number', 'Time', 'Blank'].map((heading) => ({ heading, widthChars: 17 }));
  const out = createWriteStream(file);
  const wide = Array.from({ length: 30 }, (_, n) => ({ heading: `H${n}`, widthChars: 9 }));
  await writeWorkbook(
    {
      ...about,
      sheets: [
        { name: "WE's lots", columns, rows: [...hostile.map((text) => [text, null, null, null]), ...rows] },
        { name: 'Wide', columns: wide, rows: [wide.map((_, n) => n)] },
      ],
    },
    out,
  );
  await finished(out);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('a sheet holds text as text, numbers as numbers and times as local clock time, in every row', async () => {
  const book = new ExcelJS.Workbook();
  await book.xlsx.readFile(file);
  const lots = book.getWorksheet("WE's lots")!;
  expect(lots.rowCount).toBe(1 + hostile.length + 5000);
  const texts = hostile.map((_, n) => lots.getCell(n + 2, 1).value);
  expect(texts.slice(0, 3)).toEqual(['=1+1', '<b>&amp;"\'', 'abc']);
  expect(texts.slice(4)).toEqual(['\ud83c\udf41 syrup', '\ufffd alone', ' two  spaces ', 'line\nline']);
  const last = lots.getRow(lots.rowCount);
  expect([last.getCell(1).value, last.getCell(2).value]).toEqual(['row 4999', 4999 / 8]);
  expect(last.getCell(3).value).toEqual(new Date('2026-03-18T14:19:00Z'));
  expect([last.getCell(4).value, last.getCell(3).numFmt]).toEqual([null, 'yyyy-mm-dd hh:mm']);
  expect(book.getWorksheet('Wide')!.getCell('AD2').value).toBe(29);
});

test('headings are frozen, filtered and printed on each page, fitted to the paper’s width', async () => {
  const book = new ExcelJS.Workbook();
  await book.xlsx.readFile(file);
  const lots = book.getWorksheet("WE's lots")!;
  expect([lots.getCell('A1').font.bold, lots.views[0]]).toMatchObject([true, { state: 'frozen', ySplit: 1 }]);
  expect(lots.autoFilter).toBe(`A1:D${1 + hostile.length + 5000}`);
  expect(lots.pageSetup).toMatchObject({
    orientation: 'landscape',
    fitToPage: true,
    fitToWidth: 1,
    printTitlesRow: '1:1',
  });
  expect([book.title, book.creator, book.created]).toEqual([about.title, about.creator, about.createdAt]);
});

test('each part of the archive has the length and checksum of its directory entry', () => {
  const zip = readFileSync(file);
  const end = zip.lastIndexOf(Buffer.from([0x50, 0x4b, 5, 6]));
  let at = zip.readUInt32LE(end + 16);
  const names: string[] = [];
  let styles = '';
  for (let n = 0; n < zip.readUInt16LE(end + 10); n++) {
    const [crc, packed, size] = [16, 20, 24].map((field) => zip.readUInt32LE(at + field));
    const [title, begins] = [zip.readUInt16LE(at + 28), zip.readUInt32LE(at + 42)];
    const content = begins + 30 + zip.readUInt16LE(begins + 26);
    const bytes = inflateRawSync(zip.subarray(content, content + packed!));
    expect([bytes.length, sumOf(bytes)]).toEqual([size, crc]);
    names.push(zip.toString('utf8', at + 46, at + 46 + title));
    if (names.at(-1) === 'xl/styles.xml') styles = bytes.toString();
    at += 46 + title;
  }
  expect([names.length, names.at(-1)]).toEqual([8, 'xl/worksheets/sheet2.xml']);
  // The built-in style 0 is Normal (ECMA-376 part 1, cited from memory); openpyxl warns about a book without it.
  expect(styles).toContain('<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>');
});

/** CRC-32 bit by bit, as defined. */
function sumOf(bytes: Buffer): number {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  return ~sum >>> 0;
}

test('writing ends when the output stream closes', async () => {
  const out = new PassThrough({ highWaterMark: 16 });
  const columns = [{ heading: 'A', widthChars: 9 }];
  const rows = Array.from({ length: 20_000 }, (_, n) => [`${n} ${Math.sin(n)}`]);
  const writing = writeWorkbook({ ...about, sheets: [{ name: 'Long', columns, rows }] }, out);
  out.destroy(new Error('gone'));
  await expect(writing).rejects.toThrow(/gone|destroyed|aborted/i);
});
