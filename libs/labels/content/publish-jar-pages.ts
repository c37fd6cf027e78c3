import { mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { isGtin } from '#libs/syrup/codes/jar-codes.js';
import { type JarNotice, jarPage } from './static-jar-page.js';
import type { Jars, LabelContent } from './label.js';
import type { JarStory } from './story-text.js';

export interface PublishedLot {
  readonly content: LabelContent;
  readonly jars: Jars;
  /** For every jar, or jar by jar where only some are held. */
  readonly notice?:
    JarNotice | ((jar: { readonly n: number; readonly code: string }) => JarNotice | undefined) | undefined;
  /** The maker's own article number, where its labels carry a GS1 Digital Link. */
  readonly gtin?: string | undefined;
  /** The story and its photo as JPEG, where the maker shows them. */
  readonly story?: JarStory | undefined;
  readonly photo?: Uint8Array | undefined;
}

export interface Published {
  readonly pages: number;
  /** Pages that are new or changed. */
  readonly written: number;
}

/**
 * Writes a page for each jar, at the path in its symbol: `J/CODE/index.html`, which any web host serves for `/J/CODE`.
 * No index page is written and nothing else in the folder is touched. Publishing again rewrites what has changed, so
 * that after a recall every jar of the lot says so; each page is replaced atomically.
 */
export async function publishJarPages(
  folder: string,
  lots: Iterable<PublishedLot> | AsyncIterable<PublishedLot>,
): Promise<Published> {
  let pages = 0;
  let written = 0;
  for await (const lot of lots) {
    const photo = lot.photo && lot.story?.photo ? `J/photo-${lot.story.photo.sha256.slice(0, 16)}.jpg` : '';
    if (photo !== '' && lot.photo) await writeIfChanged(join(folder, photo), lot.photo);
    for await (const jar of lot.jars) {
      const { code } = jar;
      const notice = typeof lot.notice === 'function' ? lot.notice(jar) : lot.notice;
      for (const path of pagePaths(lot, code)) {
        pages++;
        const html = jarPage(lot.content, {
          code,
          notice,
          story: lot.story,
          photoAddress: photo && pathToRoot(path) + photo,
        });
        if (await writeIfChanged(join(folder, path), html)) written++;
      }
    }
  }
  return { pages, written };
}

function pagePaths({ gtin, content }: PublishedLot, code: string): string[] {
  const own = `J/${code}/index.html`;
  if (gtin === undefined || !isGtin(gtin)) return [own];
  return [own, `01/${gtin.padStart(14, '0')}/10/${content.lot}/21/${code}/index.html`];
}

/** The relative path from a page to the top folder, which may be anywhere on a web host. */
const pathToRoot = (path: string): string => '../'.repeat(path.split('/').length - 1);

async function writeIfChanged(path: string, text: string | Uint8Array): Promise<boolean> {
  const bytes = Buffer.from(text);
  const before = await readFile(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw error;
  });
  if (before?.equals(bytes)) return false;
  if (before === undefined) await mkdir(dirname(path), { recursive: true });
  const temporaryPath = `${path}.part`;
  await writeFile(temporaryPath, bytes);
  await rename(temporaryPath, path);
  return true;
}
