import { cpSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { transform } from '@swc/core';
import ExcelJS from 'exceljs';
import fc from 'fast-check';
import { packageRoot } from '#libs/package-root.js';
import { spawningTerminal, setUp, type Terminal } from './support/command-line.js';
import { readPdf } from './support/read-pdf.js';
import { endAll, started, type Started, temporaryFolder } from './support/server-process.js';

/**
 * All that a new kind of supporting record takes: this file, its line in the list of kinds, and one in SupportingByKind
 * for the compiler.
 */
const declaration = `
import { choice, optional, required, text } from '../../record/fields.js';
import { commonFields, supportingRecord } from './declare.js';

export const chimneySweeps = supportingRecord({
  kind: 'chimney-sweep',
  plural: 'chimney-sweeps',
  noun: 'chimney sweep',
  writer: 'helper',
  summary: ['chimney', 'soot'],
  fields: {
    ...commonFields,
    chimney: required(text, { label: 'Which chimney', example: 'arch stack' }),
    soot: optional(choice('none', 'some', 'thick'), { label: 'Soot found', choices: ['none', 'some', 'thick'] }),
  },
});
`;

/** All that a new text field of a pack takes, with its line in PackBody for the compiler; the second isn't published. */
const packField = `bandLot: freeText({ label: 'Lot of the bands', inSummary: true, onLabel: true, onJarPage: true }),
    lidLot: freeText({ label: 'Lot of the lids', onLabel: true }),`;

let server: Started;
let terminal: Terminal;
let key: string;

beforeAll(async () => {
  const root = temporaryFolder();
  for (const folder of ['dist', 'templates'])
    cpSync(join(packageRoot, folder), join(root, folder), { recursive: true });
  cpSync(join(packageRoot, 'package.json'), join(root, 'package.json'));
  symlinkSync(join(packageRoot, 'node_modules'), join(root, 'node_modules'));
  const folder = join(root, 'dist/libs/actions/kinds');
  const { code } = await transform(declaration, { jsc: { parser: { syntax: 'typescript' }, target: 'es2022' } });
  writeFileSync(join(folder, 'supporting/chimney-sweep.js'), code);
  const list = join(folder, 'supporting-records.js');
  const kinds = readFileSync(list, 'utf8');
  writeFileSync(
    list,
    `import { chimneySweeps } from './supporting/chimney-sweep.js';\n${kinds.replace('supportingRecordKinds = [', 'supportingRecordKinds = [chimneySweeps, ')}`,
  );
  expect(readFileSync(list, 'utf8')).toContain('[chimneySweeps');
  const pack = join(folder, 'pack.js');
  const table = readFileSync(pack, 'utf8');
  writeFileSync(pack, table.replace(' containerPrep: ', ` ${packField}\n    containerPrep: `));
  expect(readFileSync(pack, 'utf8')).toContain('bandLot');
  terminal = spawningTerminal({}, root);
  mkdirSync(terminal.book, { recursive: true });
  await terminal.json(...setUp);
  ({ key } = await terminal.json<{ key: string }>('key', 'add', 'sweep', '--role', 'owner'));
  server = await started(terminal.book, {}, [], { root });
}, 60_000);
afterAll(() => {
  endAll();
  terminal.remove();
});

const fetchFrom = (path: string, init: RequestInit = {}): Promise<Response> =>
  fetch(server.address + path, {
    redirect: 'manual',
    ...init,
    headers: { authorization: `Bearer ${key}`, ...(init.headers as Record<string, string> | undefined) },
  });
const json = { 'content-type': 'application/json' };

test('it has a form with its two fields, which saves a record and reports an invalid box', async () => {
  const form = await (await fetchFrom('/supporting-records/chimney-sweeps/new')).text();
  expect(form).toContain('Which chimney');
  expect(form).toMatch(/name="soot"/);
  const post = (fields: Record<string, string>): Promise<Response> =>
    fetchFrom('/supporting-records/chimney-sweeps/new', { method: 'POST', body: new URLSearchParams(fields) });
  const refused = await post({ chimney: 'arch stack', soot: 'a lot' });
  expect(refused.status).toBe(422);
  expect(await refused.text()).toContain('Soot found');
  expect((await post({ id: 'CS1', chimney: 'arch stack', soot: 'some', by: 'WE' })).status).toBe(303);
});

test('it is written and read as JSON, and the API description includes it', async () => {
  const written = await fetchFrom('/api/chimney-sweeps', {
    method: 'POST',
    headers: json,
    body: JSON.stringify({ id: 'CS2', chimney: 'pan room', soot: 'none', by: 'JP' }),
  });
  expect(written.status).toBe(201);
  expect(await (await fetchFrom('/api/chimney-sweeps/CS2')).json()).toMatchObject({
    chimney: 'pan room',
    soot: 'none',
  });
  const described = JSON.stringify(await (await fetchFrom('/api/openapi.json')).json());
  expect(described).toContain('/api/chimney-sweeps/{id}');
  expect(described).toContain('Soot found');
});

test('it is exported as CSV, and importing that changes nothing', async () => {
  const file = await fetchFrom('/files/export/chimney-sweeps.csv');
  const csv = await file.text();
  expect(csv).toContain(`"arch stack","some"`);
  const imported = await fetchFrom('/api/imports/chimney-sweeps', {
    method: 'POST',
    headers: { 'content-type': 'text/csv' },
    body: csv,
  });
  expect(await imported.json()).toMatchObject({ rows: 2, written: 0, same: 2 });
});

test('the command line has its options and its help', async () => {
  const help = await terminal.run('record', 'chimney-sweep', '--help');
  expect(help.out).toContain('--soot TEXT\n      Soot found');
  const recorded = await terminal.json('record', 'chimney-sweep', '--chimney', 'arch stack', '--soot', 'thick');
  expect(recorded).toMatchObject({ outcome: 'new' });
});

test('its page lists it, a correction is beside what it corrects, and the summary has its column', async () => {
  const corrected = await fetchFrom('/api/corrections', {
    method: 'POST',
    headers: json,
    body: JSON.stringify({ entry: 'CS1', why: 'looked again', changes: { soot: 'thick' } }),
  });
  expect([corrected.status, await corrected.text()]).toEqual([201, expect.anything()]);
  const page = await (await fetchFrom('/records/chimney-sweep/CS1')).text();
  expect(page).toMatch(/looked again/);
  expect(page).toMatch(/some[\s\S]*thick|thick[\s\S]*some/);
  expect(await (await fetchFrom('/supporting-records/chimney-sweeps')).text()).toContain('pan room');
  const year = new Date().getFullYear();
  const workbook = new ExcelJS.Workbook();
  await workbook.xlsx.load(await (await fetchFrom(`/api/seasons/${year}/summary.xlsx`)).arrayBuffer());
  const sheet = workbook.getWorksheet('Chimney sweeps');
  const cells = sheet?.getSheetValues().flatMap((row) => (Array.isArray(row) ? row : []));
  expect(cells).toEqual(expect.arrayContaining(['Which chimney', 'Soot found', 'pan room', 'thick']));
});

test('a field added to the table of packs appears on form, API, import, label, the jar’s public page and summary', async () => {
  const send = async (path: string, body: object): Promise<unknown> =>
    (await fetchFrom(path, { method: 'POST', headers: json, body: JSON.stringify(body) })).json();
  await send('/api/receipts', {
    ...{ id: 'R1', supplier: 'Bracken Lane Sugarbush', contact: 'Bracken Lane, Harrow Notch', volume: '10 gal' },
    ...{ density: '67 Bx', allergens: 'none', receivedAt: '2026-03-18T09:00', by: 'OE' },
  });
  const row = {
    ...{ lot: '26078X-1', fromLots: 'R1:3 qt', packedAt: '2026-03-19T10:00', hotPackTemp: '190 F' },
    ...{ densityReading: '67.2 Bx', densityAt: '68 F', densityBy: 'refractometer', container: 'glass jar 8 fl oz' },
    ...{ containerPrep: 'boiled 10 min', jars: '12', fillTemps: '186 F jars 1-12', sealsFailed: '0', by: 'OE' },
    ...{ transmittance: '61 %', clarity: 'clear', bandLot: 'LL-77', lidLot: 'DD-4' },
  };
  expect(await send('/api/packs', row)).toMatchObject({ bandLot: 'LL-77' });
  expect(await (await fetchFrom('/packs/finished')).text()).toMatch(/Lot of the bands/);
  expect(JSON.stringify(await (await fetchFrom('/api/openapi.json')).json())).toContain('"bandLot"');
  const csv = await (await fetchFrom('/files/export/packs.csv')).text();
  expect(csv).toContain('"band_lot"');
  const again = await fetchFrom('/api/imports/packs', {
    method: 'POST',
    headers: { 'content-type': 'text/csv' },
    body: csv,
  });
  expect(await again.json()).toMatchObject({ rows: 1, written: 0, same: 1 });
  const season = async (format: string): Promise<string> =>
    (await fetchFrom(`/api/seasons/2026/summary.${format}`)).text();
  expect(JSON.parse(await season('json'))).toMatchObject({ lots: [{ lot: '26078X-1', bandLot: 'LL-77' }] });
  expect(await season('csv')).toMatch(/"Lot of the bands"\r\n[^]*"LL-77"\r\n$/);
  const labels = await fetchFrom('/api/lots/26078X-1/labels.pdf?stock=letter-6-up-102x85&to=1');
  const [page] = (await readPdf(Buffer.from(await labels.arrayBuffer()))).pages;
  expect(page?.text).toContain('Lot of the bands: LL-77');
  expect(page?.text).toContain('Lot of the lids: DD-4');
  const { jars } = (await (await fetchFrom('/api/lots/26078X-1/jars')).json()) as { jars: readonly { code: string }[] };
  const publicPage = await (await fetch(`${server.address}/j/${jars[0]?.code}`)).text();
  expect(publicPage).toContain('<dt>Lot of the bands</dt><dd>LL-77</dd>');
  expect(publicPage).not.toContain('boiled 10 min');
  expect(publicPage).not.toContain('DD-4');
});

test('whatever text is sent in its fields, it is saved or refused with a sentence', async () => {
  await fc.assert(
    fc.asyncProperty(fc.string({ maxLength: 200 }), fc.string({ maxLength: 200 }), async (chimney, soot) => {
      const answer = await fetchFrom('/api/chimney-sweeps', {
        method: 'POST',
        headers: json,
        body: JSON.stringify({ chimney, soot }),
      });
      await answer.text();
      return answer.status < 500;
    }),
    { numRuns: 60 },
  );
});
