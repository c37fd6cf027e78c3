import { mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { isGtin } from '#libs/syrup/codes/jar-codes.js';
import { type JarNotice, jarPage } from './static-jar-page.js';
import type { Jars, LabelContent } from './label.js';
import type { JarStory } from './story-text.js';

export interface PublishedLot {
  readonly content: LabelContent;
  readonly jars: Jars;
  /** Of every jar, or jar by jar where only some are held. */
  readonly notice?:
    JarNotice | ((jar: { readonly n: number; readonly code: string }) => JarNotice | undefined) | undefined;
  /** The maker's own, where its labels carry a GS1 Digital Link. */
  readonly gtin?: string | undefined;
  /** Where the maker wants it told. */
  readonly story?: JarStory | undefined;
}

export interface Published {
  readonly pages: number;
  /** Pages new or other than they were. */
  readonly written: number;
}

/**
 * Writes a page for each jar, at the path its symbol names: `J/CODE/index.html`, which any web space serves for
 * `/J/CODE`. There is no list of them and nothing else in the folder is touched. Publishing again rewrites what has
 * changed, so that after a recall every jar of the lot says so; a page is there whole or as it was.
 */
export async function publishJarPages(
  folder: string,
  lots: Iterable<PublishedLot> | AsyncIterable<PublishedLot>,
): Promise<Published> {
  let pages = 0;
  let written = 0;
  for await (const lot of lots) {
    for await (const jar of lot.jars) {
      const { code } = jar;
      const notice = typeof lot.notice === 'function' ? lot.notice(jar) : lot.notice;
      const html = jarPage(lot.content, code, notice, lot.story);
      for (const path of pathsOf(lot, code)) {
        pages++;
        if (await replaceIfOther(join(folder, path), html)) written++;
      }
    }
  }
  return { pages, written };
}

function pathsOf({ gtin, content }: PublishedLot, code: string): string[] {
  const own = `J/${code}/index.html`;
  if (gtin === undefined || !isGtin(gtin)) return [own];
  return [own, `01/${gtin.padStart(14, '0')}/10/${content.lot}/21/${code}/index.html`];
}

async function replaceIfOther(path: string, html: string): Promise<boolean> {
  const before = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw error;
  });
  if (before === html) return false;
  if (before === undefined) await mkdir(dirname(path), { recursive: true });
  const unfinished = `${path}.part`;
  await writeFile(unfinished, html);
  await rename(unfinished, path);
  return true;
}
