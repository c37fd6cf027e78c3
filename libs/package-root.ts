import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder of our package.json: sources and dist/ are at different depths below it. */
export const packageRoot = findRoot(dirname(fileURLToPath(import.meta.url)));

/** Path of a file under templates/, such as `places/vermont.json`. */
export const templatePath = (name: string): string => join(packageRoot, 'templates', name);

function findRoot(folder: string): string {
  const manifest = join(folder, 'package.json');
  if (existsSync(manifest) && (JSON.parse(readFileSync(manifest, 'utf8')) as { name?: string }).name === 'boilbook')
    return folder;
  const above = dirname(folder);
  if (above === folder) throw new Error('Boilbook cannot find its own package.json above ' + folder);
  return findRoot(above);
}
