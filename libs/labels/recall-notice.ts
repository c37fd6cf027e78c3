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
    wordFr: 'RAPPELÉ',
    sentencesFr: [
      `Le lot ${lot.code} a été rappelé par son producteur. Ne mangez pas ce sirop et ne le donnez à personne.`,
      'Gardez le pot fermé et rapportez-le, ou jetez le sirop et gardez l’étiquette.',
    ],
    contact: maker.phone ?? [maker.name, ...maker.lines].join(', '),
  };
}
