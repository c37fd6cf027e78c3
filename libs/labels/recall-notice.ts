import type { Lot } from '#libs/records/lots.js';
import type { JarNotice } from './jar-page.js';
import type { LabelContent } from './label.js';

/** What somebody with a jar of a recalled lot must read first; nothing for other lots. */
export function recallNotice(
  lot: Pick<Lot, 'code' | 'state'>,
  { maker }: Pick<LabelContent, 'maker'>,
): JarNotice | undefined {
  if (lot.state !== 'recalled') return undefined;
  return {
    word: 'RECALLED',
    sentences: [
      `Lot ${lot.code} has been called back by its maker. Do not eat this syrup and do not give it away.`,
      'Keep the jar closed and bring it back, or pour the syrup away and keep the label.',
    ],
    contact: maker.phone ?? [maker.name, ...maker.lines].join(', '),
  };
}
