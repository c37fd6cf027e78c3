import { beforeAll, describe, expect, test } from '@jest/globals';
import ExcelJS from 'exceljs';
import { engines } from '../support/engines.js';
import { readPdf } from '../support/read-pdf.js';
import { recallSuite } from '../support/recall-suite.js';

describe.each(engines())('on $name', (engine) => {
  const here = recallSuite(engine);
  let pack = '';
  let unnumbered = '';
  beforeAll(async () => {
    pack = await here.aPack(here.boil, {
      fromLots: [`${here.boil}:2 gal`],
      jars: '30',
      fillTemps: ['186 F jar 12', '185 F jars 13-24'],
    });
    unnumbered = here.day.pack;
  });
  const page = async (url: string): Promise<string> =>
    (await here.open(url)).body.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');

  test('the trace of a pack lists jars that no fill reading covers, and that of a covered one has no such line', async () => {
    expect(await page(`/lots/${pack}`)).toContain('No fill reading covers jars 25–30.');
    expect(await page(`/lots/${pack}/trace`)).toContain('No fill reading covers jars 25–30.');
    const covered = await here.aPack(here.boil, { jars: '4', fillTemps: ['186 F jar 4'] });
    expect(await page(`/lots/${covered}/trace`)).not.toContain('No fill reading');
    const traced = await here.open(`/api/lots/${pack}/trace`);
    expect(traced.json()).toMatchObject({ uncoveredJars: [{ from: 25, to: 30 }] });
  });

  test('readings that name only jars the pack doesn’t have are not shown as readings without jar numbers', async () => {
    const beyond = await here.aPack(here.boil, { jars: '4', fillTemps: ['186 F jars 8-9'] });
    const shown = await page(`/lots/${beyond}`);
    expect(shown).toContain('No fill reading covers jars 1–4.');
    expect(shown).not.toContain('recorded without jar numbers');
  });

  test('the page of a jar says so only for that jar', async () => {
    const jars: { code: string; n: number }[] = await here.at.book.read
      .rows`SELECT code, n FROM jar WHERE pack = ${pack} AND (n = 24 OR n = 25) ORDER BY n`;
    expect(await page(`/jars/${jars[0]?.code}`)).not.toContain('No fill reading');
    expect(await page(`/jars/${jars[1]?.code}`)).toContain('No fill reading covers this jar.');
    const unnamed = await here.aPack(here.boil, { jars: '4', fillTemps: ['186 F', '187 F'] });
    expect(await page(`/jars/${await here.firstJar(unnamed)}`)).toContain(
      'The fill readings were recorded without jar numbers, so it isn’t known whether one covers this jar.',
    );
  });

  test('the yearly summary says so in JSON, in the sheet and in print', async () => {
    const json = (await here.open('/api/seasons/2026/summary.json')).json<{
      lots: { lot: string; uncoveredJars: unknown }[];
      notRecorded: { matter: string; of: string[]; jars?: string[] }[];
    }>();
    expect(json.lots.find(({ lot }) => lot === pack)?.uncoveredJars).toEqual([{ from: 25, to: 30 }]);
    const lacking = (matter: string) => json.notRecorded.find((each) => each.matter === matter);
    expect(lacking('a fill reading that covers every jar')).toMatchObject({ of: [pack], jars: ['jars 25–30'] });
    expect(lacking('which jars the fill readings cover')?.of).toContain(unnumbered);
    expect(lacking('which jars the fill readings cover')?.of).not.toContain(pack);

    const workbook = new ExcelJS.Workbook();
    const sheet = (await here.open('/api/seasons/2026/summary.xlsx')).rawPayload;
    await workbook.xlsx.load(sheet as unknown as ExcelJS.Buffer);
    const lots = workbook.getWorksheet('Lots');
    const headings = (lots?.getRow(1).values ?? []) as string[];
    const row = lots?.getRows(2, lots.rowCount)?.find((each) => each.getCell(1).value === pack);
    expect(row?.getCell(headings.indexOf('Jars no fill reading covers')).value).toBe('jars 25–30');

    const pdf = await readPdf((await here.open('/api/seasons/2026/summary.pdf')).rawPayload);
    expect(pdf.text.replace(/\s+/g, ' ')).toContain(`a fill reading that covers every jar: 1 of`);
    expect(pdf.text.replace(/\s+/g, ' ')).toContain(`${pack} jars 25–30`);
  });

  test('a reading of a range of jars covers those alone: earlier jars that nothing names are listed', async () => {
    const late = await here.aPack(here.boil, { jars: '40', fillTemps: ['185 F@10:46 jars 25-40'] });
    const text = await page(`/lots/${late}`);
    expect(text).toContain('No fill reading covers jars 1–24.');
    expect(text).toContain('no reading for jars 1–24 and one reading for jars 25–40');
    expect(await page(`/jars/${await here.firstJar(late)}`)).toContain('No fill reading covers this jar.');
    const between = await here.aPack(here.boil, {
      jars: '12',
      fillTemps: ['185 F jars 1-4', '185 F jars 9-12'],
    });
    expect(await page(`/lots/${between}`)).toContain('No fill reading covers jars 5–8.');
  });
});
