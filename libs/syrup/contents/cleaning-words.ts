/** Reads the free text of a cleaning or a water test, in English and French, each in one pass. */

/**
 * Whether everything that the sap boils in was cleaned: `all pans, draw-off`, `evaporator`, `les casseroles`. One pan
 * of a rig is not enough: what a defoamer left in the others is still there.
 */
export function washesPans(what: string): boolean {
  const text = plain(what);
  if (/\b(?:pans|evaporator|rig|everything|all of it|boiling kettle|casseroles|evaporateur|tout|bassins)\b/u.test(text))
    return true;
  const single = new Set(text.match(onePan) ?? []);
  return /\b(?:pan|casserole|bassin)\b/u.test(text) && (single.size === 0 || single.size > 1);
}
const onePan =
  /\b(?:finish(?:ing)?|syrup|front|back|rear|flue|sap|drip|warming|preheat\w*|filter|canner|float|draw ?-?off)(?= (?:and [a-z]+ )?pan\b)/gu;

/** Not rinsed, by the answer or the text beside it; a blank is unknown and doesn't count as no. */
export const notRinsed = (answer: string, text: string): boolean =>
  answer === 'no' ||
  /^(?:no|non|none|not|nothing|never|pas|sans|un ?rinsed|not yet|forgot\w*|oublie)\b/u.test(plain(text).trim()) ||
  /\b(?:not|never|un|without|forgot to|pas|sans|non) ?(?:a |been )?(?:rins\w*)\b/u.test(plain(text));

/** Cleaned with water only, which needs no rinse, where the answer says so: `no need`. A plain no raises a question. */
export const needsNoRinse = (of: {
  readonly with: string;
  readonly wasRinsed: string;
  readonly rinsed: string;
}): boolean => of.wasRinsed !== 'no' && /need|necess|besoin|requi/u.test(plain(of.rinsed)) && isOnlyWater(of.with);

/** `hot water only`, `eau chaude`, `steam`. */
const isOnlyWater = (label: string): boolean =>
  /\b(?:water|eau|steam|vapeur|vapor)\b/u.test(plain(label)) &&
  plain(label)
    .replace(
      /\b(?:very|hot|cold|warm|boiling|clean|fresh|plain|clear|water|only|just|steam|vapou?r|and|with|a|the|of|lots|brush|scrub\w*|hose\w*|pressure|washer|eau|chaude|froide|bouillante|claire|propre|vapeur|de|la|seulement|brosse)\b/gu,
      ' ',
    )
    .replace(/[^\p{L}\p{N}]+/gu, '') === '';

/** Cleaners that must never be mixed: bleach with an acid gives off chlorine, with ammonia chloramine. */
export function dangerousMixture(label: string): 'acid' | 'ammonia' | undefined {
  const text = plain(label);
  if (!/\b(?:bleach\w*|chlorine|chlore|hypochlorite|javel\w*|javex)\b/u.test(text)) return undefined;
  if (/\b(?:ammonia\w*|ammoniaque?|quats?|quaternary)\b/u.test(text)) return 'ammonia';
  return /\b(?:vinegar|vinaigre|acids?|acide|acetic|citric|phosphoric|lemon|descaler|detartrant|milk ?stone remover)\b/u.test(
    text,
  )
    ? 'acid'
    : undefined;
}

/** Whether a test found E. coli or coliform, or the water failed; either the answer or the text may say so. */
export function waterFailed(bacteria: string, result: string): boolean {
  if (['coliform', 'e-coli', 'failed'].includes(bacteria)) return true;
  const text = plain(result).replace(belowOne, ' none ');
  return (
    notGood.test(text) ||
    text.split(/[,;()]|\s\/\s|\b(?:but|mais)\b/u).some((part) => {
      const halves = part.split(/\b(?:and|et)\b/u);
      // `coliform present and E. coli absent` are two findings, `no coliform and E. coli found` is one.
      const apart = halves.length > 1 && halves.every((half) => bad.test(half) || foundNone.test(half));
      return (apart ? halves : [part]).some((each) => (bad.test(each) && !clean.test(each)) || counted.test(each));
    })
  );
}

const bad =
  /\b(?:present(?:e?s?)|presence|positive?|positif|detected|detectee?s?|found|failed?|unsafe|bad|tntc|too numerous|innombrables?|contaminat\w*|contaminee?s?|unsatisfactory|unacceptable|insatisfaisant\w*|impropre|echec|exceed\w*|trouvee?s?)\b/u;
const foundNone = /\b(?:absen\w*|negative?|negatif|none|nothing|pass\w*|zero|0)\b/u;
const clean =
  /\b(?:no|not|none|non|absen\w*|negative?|negatif|nothing|without|free|pass\w*|aucune?|sans|pas|zero|0)\b/u;
/** `did not pass`, `non potable`: the good word is denied. */
const notGood =
  /\b(?:not|non|pas|n[o']?t|didn['’]?t|isn['’]?t) (?:to be |be )?(?:potable|conforme|pass\w*|safe|satisf\w*|accept\w*|drinkable|drink|ok|good|fit|meet\w*)\b/u;
const counted = /\b[1-9]\d* ?(?:cfu|mpn|ufc|npp|colon\w*|per 100|\/ ?100)/u;
/** How laboratories report that they found none: `<1 MPN/100 mL`. */
const belowOne =
  /(?:<|\bless than\b|\bbelow\b|\bunder\b|\bmoins de\b|\binferieure? a\b) ?1(?:[.,]0+)?(?![\d.,])[^,;()]*/gu;

/** Lower case, accents removed. */
const plain = (text: string): string => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
