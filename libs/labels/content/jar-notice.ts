import { asSentence } from '#libs/format/as-sentence.js';
import type { JarState } from '#libs/syrup/jars/jar-state.js';
import type { JarNotice } from './static-jar-page.js';
import type { LabelContent } from './label.js';

type NoticeText = Omit<JarNotice, 'contact'>;

/** What a recall recorded for the people who have the jars; null where it was left blank. */
export interface RecordedHazard {
  readonly hazard: string | null;
  readonly whoMayBeHurt: string | null;
  readonly whatToDo: string | null;
}

/**
 * What the holder of a jar must read first: that it is recalled, held, set apart or recorded as destroyed. `recorded` is
 * of a recall.
 */
export function jarNotice(
  state: JarState,
  lot: string,
  { maker }: Pick<LabelContent, 'maker'>,
  recorded?: RecordedHazard,
): JarNotice | undefined {
  const text =
    state === 'free' ? undefined : state === 'recalled' ? recalledText(lot, recorded) : noticeTexts[state](lot);
  return text && { ...text, contact: maker.phone ?? [maker.name, ...maker.lines].join(', ') };
}

/**
 * The same for a lot: recalled, held whole, or partly held, where only a jar's own code shows whether it is affected.
 */
export function lotNotice(
  state: 'free' | 'recalled' | 'held' | 'some held',
  lot: string,
  { maker }: Pick<LabelContent, 'maker'>,
  recorded?: RecordedHazard,
): JarNotice | undefined {
  if (state === 'free') return undefined;
  const text = state === 'recalled' ? recalledText(lot, recorded) : lotHeld[state](lot);
  return { ...text, contact: maker.phone ?? [maker.name, ...maker.lines].join(', ') };
}

const lotHeld: Readonly<Record<'held' | 'some held', (lot: string) => NoticeText>> = {
  held: (lot) => ({
    ...noticeTexts.held(lot),
    sentences: [
      `Lot ${lot} is held by its maker while something about it is checked. Do not eat this syrup for now and do not give it away.`,
      'Keep the jar closed and call the maker to say where it is.',
    ],
    sentencesFr: [
      `Le lot ${lot} est retenu par son producteur pendant une vérification. Ne mangez pas ce sirop pour l’instant et ne le donnez à personne.`,
      'Gardez le pot fermé et appelez : son producteur veut savoir où il est.',
    ],
  }),
  'some held': (lot) => ({
    word: 'SOME JARS HELD',
    sentences: [
      `Some jars of lot ${lot} are held by its maker. Look up your own jar by the jar code on its label before you eat this syrup.`,
      'If you cannot read the code, keep the jar closed and call the maker.',
    ],
    wordFr: 'DES POTS RETENUS',
    sentencesFr: [
      `Des pots du lot ${lot} sont retenus par son producteur. Cherchez votre pot par le code sur son étiquette avant de manger ce sirop.`,
      'Si le code ne peut pas être lu, gardez le pot fermé et appelez.',
    ],
  }),
};

/**
 * The recorded hazard and instruction come first, as they were typed. What to do with the jar is said in words of this
 * program only where none was recorded: two instructions may contradict each other.
 */
function recalledText(lot: string, recorded?: RecordedHazard): NoticeText {
  const { hazard = null, whoMayBeHurt = null, whatToDo = null } = recorded ?? {};
  const lines = (labels: readonly [string, string, string]): string[] =>
    [hazard, whoMayBeHurt, whatToDo].flatMap((text, n) => (text === null ? [] : [`${labels[n]} ${asSentence(text)}`]));
  return {
    word: 'RECALLED',
    sentences: [
      ...lines(['Hazard:', 'Who may be hurt:', 'What to do:']),
      `Lot ${lot} has been recalled by its maker. Do not eat this syrup and do not give it away.`,
      ...(whatToDo === null
        ? ['Keep the jar closed and bring it back, or pour the syrup away and keep the label.']
        : []),
    ],
    wordFr: 'RAPPELÉ',
    sentencesFr: [
      ...lines(['Danger :', 'Qui peut être atteint :', 'Que faire :']),
      `Le lot ${lot} a été rappelé par son producteur. Ne mangez pas ce sirop et ne le donnez à personne.`,
      ...(whatToDo === null ? ['Gardez le pot fermé et rapportez-le, ou jetez le sirop et gardez l’étiquette.'] : []),
    ],
  };
}

const noticeTexts: Readonly<Record<Exclude<JarState, 'free' | 'recalled'>, (lot: string) => NoticeText>> = {
  held: (lot) => ({
    word: 'HELD',
    sentences: [
      `This jar of lot ${lot} is held by its maker while something about it is checked. Do not eat this syrup for now and do not give it away.`,
      'Keep the jar closed and call the maker to say where it is.',
    ],
    wordFr: 'RETENU',
    sentencesFr: [
      `Ce pot du lot ${lot} est retenu par son producteur pendant une vérification. Ne mangez pas ce sirop pour l’instant et ne le donnez à personne.`,
      'Gardez le pot fermé et appelez : son producteur veut savoir où il est.',
    ],
  }),
  destroyed: (lot) => ({
    word: 'RECORDED AS DESTROYED',
    sentences: [
      `The maker recorded that this jar of lot ${lot} was destroyed or poured back. Do not eat this syrup and do not give it away.`,
      'Keep the jar closed and call the maker to say where it is.',
    ],
    wordFr: 'INSCRIT COMME DÉTRUIT',
    sentencesFr: [
      `Selon le registre de son producteur, ce pot du lot ${lot} a été détruit ou vidé. Ne mangez pas ce sirop et ne le donnez à personne.`,
      'Gardez le pot fermé et appelez : son producteur veut savoir où il est.',
    ],
  }),
  unsealed: (lot) => ({
    word: 'SEAL FAILED',
    sentences: [
      `The maker recorded that the seal of this jar of lot ${lot} failed. It should not be on sale: do not eat this syrup and do not give it away.`,
      'Keep the jar closed and call the maker to say where it is.',
    ],
    wordFr: 'COUVERCLE NON SCELLÉ',
    sentencesFr: [
      `Selon le registre de son producteur, le couvercle de ce pot du lot ${lot} n’était pas scellé. Il ne devrait pas être en vente : ne mangez pas ce sirop et ne le donnez à personne.`,
      'Gardez le pot fermé et appelez : son producteur veut savoir où il est.',
    ],
  }),
  returned: (lot) => ({
    word: 'RETURNED',
    sentences: [
      `This jar of lot ${lot} was returned to its maker and has not been inspected since. It should not be on sale: do not eat this syrup.`,
      'Keep the jar closed and call the maker to say where it is.',
    ],
    wordFr: 'RETOURNÉ',
    sentencesFr: [
      `Ce pot du lot ${lot} a été retourné à son producteur et n’a pas été examiné depuis. Il ne devrait pas être en vente : ne mangez pas ce sirop.`,
      'Gardez le pot fermé et appelez : son producteur veut savoir où il est.',
    ],
  }),
};
