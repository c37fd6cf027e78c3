import { readFile, stat } from 'node:fs/promises';
import { loadStoredLogo, removeLogo, saveLogo } from '#libs/actions/labels/logo.js';
import { logoLimits } from '#libs/actions/labels/logo-check.js';
import { invalid } from '#libs/actions/record/problem.js';
import { catalogueEntry } from '../catalogue.js';
import type { Command } from '../command.js';

export const logo: Command = {
  ...catalogueEntry('logo'),
  options: { remove: 'flag' },
  optionHelp: { remove: 'Removes the drawing from labels.' },
  run: async (cli) => {
    const [file] = cli.argv;
    if (cli.argv.length > 1) return invalid('file', 'one SVG or PNG file', cli.argv.join(' '));
    const book = await cli.book();
    const context = cli.writeContext;
    if (cli.options['remove'] === true) {
      await removeLogo(book, context);
      return { json: { logo: null }, lines: ['Labels print text only.'] };
    }
    if (file === undefined) {
      const stored = await loadStoredLogo({ sql: book.read, sugarhouse: context.sugarhouse });
      const view = stored
        ? { kind: stored.kind, widthPx: stored.widthPx, heightPx: stored.heightPx, by: stored.by }
        : null;
      return {
        json: { logo: view },
        lines: [
          view ? `Labels print a drawing of ${view.widthPx} × ${view.heightPx} pixels.` : 'Labels have no drawing.',
        ],
      };
    }
    const size = await stat(file).then(
      ({ size: bytes }) => bytes,
      () => undefined,
    );
    if (size === undefined) return invalid('file', 'an SVG or PNG file that can be read', `"${file}"`);
    // A file that is far too large is refused by its size and never read in full.
    const bytes = size > 4 * logoLimits.bytes ? new Uint8Array(logoLimits.bytes + 1) : await readFile(file);
    const saved = await saveLogo(book, context, bytes);
    if ('problem' in saved) return saved;
    const { kind, widthPx, heightPx } = saved.logo;
    return { json: { logo: { kind, widthPx, heightPx } }, lines: [`Saved: labels now print ${file}.`] };
  },
};
