import { foldAccents } from './normalize-text.js';

/** Patterns for the free text of a cleaning or a water test, in English and French; each runs in linear time. */

/**
 * Whether everything that the sap boils in was cleaned: `all pans, draw-off`, `evaporator`, `les casseroles`. One
 * pan of several is not enough: residues of a defoamer stay in the others.
 */
export function cleansAllPans(what: string): boolean {
  const text = foldAccents(what);
  if (/\b(?:pans|evaporator|rig|everything|all of it|boiling kettle|casseroles|evaporateur|tout|bassins)\b/u.test(text))
    return true;
  const single = new Set(text.match(singlePan) ?? []);
  return /\b(?:pan|casserole|bassin)\b/u.test(text) && (single.size === 0 || single.size > 1);
}
const singlePan =
  /\b(?:finish(?:ing)?|syrup|front|back|rear|flue|sap|drip|warming|preheat\w*|filter|canner|float|draw ?-?off)(?= (?:and [a-z]+ )?pan\b)/gu;

/** Whether the answer, or the text beside it, is that nothing was rinsed. A blank is unknown and doesn’t count as no. */
export const isUnrinsed = (answer: string, text: string): boolean =>
  answer === 'no' ||
  /^(?:no|non|none|not|nothing|never|pas|sans|un ?rinsed|not yet|forgot\w*|oublie)\b/u.test(foldAccents(text).trim()) ||
  /\b(?:not|never|un|without|forgot to|pas|sans|non) ?(?:a |been )?(?:rins\w*)\b/u.test(foldAccents(text));

/** Whether it was cleaned with water only, and the text explains that this needs no rinse: `no need`. */
export const needsNoRinse = (of: {
  readonly with: string;
  readonly wasRinsed: string;
  readonly rinsed: string;
}): boolean =>
  of.wasRinsed !== 'no' && /need|necess|besoin|requi/u.test(foldAccents(of.rinsed)) && isOnlyWater(of.with);

/** `hot water only`, `eau chaude`, `steam`. */
const isOnlyWater = (label: string): boolean =>
  /\b(?:water|eau|steam|vapeur|vapor)\b/u.test(foldAccents(label)) &&
  foldAccents(label)
    .replace(
      /\b(?:very|hot|cold|warm|boiling|clean|fresh|plain|clear|water|only|just|steam|vapou?r|and|with|a|the|of|lots|brush|scrub\w*|hose\w*|pressure|washer|eau|chaude|froide|bouillante|claire|propre|vapeur|de|la|seulement|brosse)\b/gu,
      ' ',
    )
    .replace(/[^\p{L}\p{N}]+/gu, '') === '';

/** Cleaners that must never be mixed, where a text names both: bleach with an acid gives off chlorine, with ammonia chloramine. */
export function dangerousMixture(label: string): 'acid' | 'ammonia' | undefined {
  const text = foldAccents(label);
  if (!/\b(?:bleach\w*|chlorine|chlore|hypochlorite|javel\w*|javex)\b/u.test(text)) return undefined;
  if (/\b(?:ammonia\w*|ammoniaque?|quats?|quaternary)\b/u.test(text)) return 'ammonia';
  return /\b(?:vinegar|vinaigre|acids?|acide|acetic|citric|phosphoric|lemon|descaler|detartrant|milk ?stone remover)\b/u.test(
    text,
  )
    ? 'acid'
    : undefined;
}

/** Whether a water test found E. coli or coliform, or the water failed, by its answer (`bacteria`) or its text (`result`). */
export function waterFailed(bacteria: string, result: string): boolean {
  if (['coliform', 'e-coli', 'failed'].includes(bacteria)) return true;
  const text = foldAccents(result).replace(belowOne, ' none ');
  return (
    negatedPass.test(text) ||
    text.split(/[,;()]|\s\/\s|\b(?:but|mais)\b/u).some((part) => {
      const halves = part.split(/\b(?:and|et)\b/u);
      // `coliform present and E. coli absent` are two findings, `no coliform and E. coli found` is one.
      const isTwoFindings =
        halves.length > 1 && halves.every((half) => contaminationWords.test(half) || noContaminationWords.test(half));
      return (isTwoFindings ? halves : [part]).some(
        (each) => (contaminationWords.test(each) && !negationWords.test(each)) || bacteriaCount.test(each),
      );
    })
  );
}

const contaminationWords =
  /\b(?:present(?:e?s?)|presence|positive?|positif|detected|detectee?s?|found|failed?|unsafe|bad|tntc|too numerous|innombrables?|contaminat\w*|contaminee?s?|unsatisfactory|unacceptable|insatisfaisant\w*|impropre|echec|exceed\w*|trouvee?s?)\b/u;
const noContaminationWords = /\b(?:absen\w*|negative?|negatif|none|nothing|pass\w*|zero|0)\b/u;
const negationWords =
  /\b(?:no|not|none|non|absen\w*|negative?|negatif|nothing|without|free|pass\w*|aucune?|sans|pas|zero|0)\b/u;
/** A negated good result: `did not pass`, `non potable`. */
const negatedPass =
  /\b(?:not|non|pas|n[o']?t|didn['’]?t|isn['’]?t) (?:to be |be )?(?:potable|conforme|pass\w*|safe|satisf\w*|accept\w*|drinkable|drink|ok|good|fit|meet\w*)\b/u;
const bacteriaCount = /\b[1-9]\d* ?(?:cfu|mpn|ufc|npp|colon\w*|per 100|\/ ?100)/u;
/** How laboratories report that they found none: `<1 MPN/100 mL`. */
const belowOne =
  /(?:<|\bless than\b|\bbelow\b|\bunder\b|\bmoins de\b|\binferieure? a\b) ?1(?:[.,]0+)?(?![\d.,])[^,;()]*/gu;
