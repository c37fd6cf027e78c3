import { mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from '@jest/globals';
import { jarLink } from '#libs/labels/content/address.js';
import { publishJarPages } from '#libs/labels/content/publish-jar-pages.js';
import { recallNotice } from '#libs/labels/content/recall-notice.js';
import { canadian, halfPint, jarsOf } from '../support/tamarack-hollow.js';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'boilbook-pages-'));
});
afterEach(() => rm(folder, { recursive: true }));

const recalled = {
  word: 'RECALLED',
  sentences: ['Filled under 180 °F.', 'Do not eat it: keep the jar closed and call us.'],
  wordFr: 'RAPPELÉ',
  sentencesFr: ['Rempli à moins de 82 °C.'],
  contact: '802-555-0143',
};
const page = (code: string): Promise<string> => readFile(join(folder, 'J', code, 'index.html'), 'utf8');

test('each jar has a page at the path of its link, and nothing lists them', async () => {
  const jars = jarsOf(5);
  expect(await publishJarPages(folder, [{ content: halfPint, jars }])).toEqual({ pages: 5, written: 5 });
  expect(await readdir(folder)).toEqual(['J']);
  expect((await readdir(join(folder, 'J'))).sort()).toEqual(jars.map(({ code }) => code).sort());
  const path = new URL(jarLink('https://boilbook.example', jars[0]!.code)).pathname;
  const html = await readFile(join(folder, path, 'index.html'), 'utf8');
  for (const formatted of [
    'Tamarack Hollow Sugarhouse',
    '26077A-1',
    '19 Mar 2026',
    '8\u00a0FL OZ (236\u00a0mL)',
    'tel:8025550143',
    'noindex',
  ])
    expect(html).toContain(formatted);
  for (const { code } of jars.slice(1)) expect(html).not.toContain(code);
  expect(html).not.toMatch(/<script|https?:\/\/(?!www\.w3\.org)|\{\{/);
});

test('a label in two languages has a page and a recall notice in both; others have one', async () => {
  const jars = jarsOf(1);
  const content = { ...canadian, maker: { ...canadian.maker, phone: '819-555-0143' } };
  const notice = recallNotice({ code: content.lot, state: 'recalled' }, content);
  await publishJarPages(folder, [{ content, jars, notice }]);
  const html = await page(jars[0]!.code);
  for (const formatted of [
    'RAPPELÉ</h2>',
    'Ne mangez pas ce sirop',
    'Product<br><span lang="fr">Produit</span>',
    'Maple syrup<br><span lang="fr">Sirop d’érable</span>',
    'Net quantity<br><span lang="fr">Quantité nette</span>',
    'Appelez le <a href="tel:8195550143">',
  ])
    expect(html).toContain(formatted);
  expect(html.indexOf('RECALLED</h2>')).toBeLessThan(html.indexOf('RAPPELÉ</h2>'));
  expect(html.match(/<dt>Lot<\/dt>/g)).toHaveLength(1);
  await publishJarPages(folder, [{ content: halfPint, jars, notice: recalled }]);
  expect(await page(jars[0]!.code)).not.toContain('lang="fr"');
});

test('publishing again after a recall changes every page of the lot, the notice first, and no other', async () => {
  const [jars, others] = [jarsOf(4), jarsOf(3, 'another lot')];
  const other = { content: { ...halfPint, lot: '26078A-1' }, jars: others };
  await publishJarPages(folder, [{ content: halfPint, jars }, other]);
  const again = await publishJarPages(folder, [{ content: halfPint, jars, notice: recalled }, other]);
  expect(again).toEqual({ pages: 7, written: 4 });
  for (const { code } of jars) {
    const html = await page(code);
    expect(html.indexOf('RECALLED</h2>')).toBeGreaterThan(0);
    expect(html.indexOf('RECALLED</h2>')).toBeLessThan(html.indexOf('<h1>'));
    expect(html).toContain('Do not eat it');
  }
  expect(await page(others[0]!.code)).not.toContain('RECALLED');
});

test('a page that has not changed is left alone, and so are other files in the folder', async () => {
  await writeFile(join(folder, 'index.html'), 'the family’s own page');
  const jars = jarsOf(2);
  await publishJarPages(folder, [{ content: halfPint, jars }]);
  const before = (await stat(join(folder, 'J', jars[0]!.code, 'index.html'))).mtimeMs;
  expect(await publishJarPages(folder, [{ content: halfPint, jars }])).toEqual({ pages: 2, written: 0 });
  expect((await stat(join(folder, 'J', jars[0]!.code, 'index.html'))).mtimeMs).toBe(before);
  expect(await readFile(join(folder, 'index.html'), 'utf8')).toBe('the family’s own page');
});

test('with the maker’s own GTIN there is a page at the digital link too', async () => {
  const jars = jarsOf(1);
  await publishJarPages(folder, [{ content: halfPint, jars, gtin: '036000291452' }]);
  const path = join(folder, '01/00036000291452/10/26077A-1/21', jars[0]!.code, 'index.html');
  expect(await readFile(path, 'utf8')).toBe(await page(jars[0]!.code));
});

test('typed text is escaped on the page, whatever it contains', async () => {
  const jars = jarsOf(1);
  const content = { ...halfPint, practice: true, maker: { name: '<b>&"$&', lines: ['{{notice}}'] }, product: '<i>' };
  await publishJarPages(folder, [{ content, jars, notice: { ...recalled, contact: 'June <Pascoe>' } }]);
  const html = await page(jars[0]!.code);
  expect(html).toContain('<h1>&lt;b&gt;&amp;&quot;$&amp;</h1>');
  expect(html).toContain('June &lt;Pascoe&gt;');
  expect(html).toContain('{{notice}}');
  expect(html).not.toMatch(/<b>|<i>/);
});
