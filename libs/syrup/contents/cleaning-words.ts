/** Reads the free text of a cleaning or a water test, in English and French, each in one pass. */

/** Whether what was cleaned is what the sap boils in: `all pans, draw-off`, `evaporator`, `les casseroles`. */
export const washesPans = (what: string): boolean =>
  /\b(?:pans?|evaporator|rig|everything|all of it|boiling kettle|casseroles?|evaporateur|tout|bassins?)\b/u.test(
    plain(what),
  );

/** Not rinsed, by the answer or by the words beside it; not said is not known, and no. */
export const notRinsed = (answer: string, text: string): boolean =>
  answer === 'no' ||
  /^(?:no|non|none|not|nothing|never|pas|sans|un ?rinsed|not yet|forgot\w*|oublie)\b/u.test(plain(text).trim()) ||
  /\b(?:not|never|un|without|forgot to|pas|sans|non) ?(?:a |been )?(?:rins\w*)\b/u.test(plain(text));

/** What of it must never be mixed: bleach with an acid gives off chlorine, with ammonia chloramine. */
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

/** A test that found E. coli or coliform, or that the water failed; the answer or the words may say so. */
export function waterFailed(bacteria: string, result: string): boolean {
  if (['coliform', 'e-coli', 'failed'].includes(bacteria)) return true;
  return plain(result)
    .split(/[,;]|\bbut\b|\bmais\b/u)
    .some(
      (part) =>
        (/\b(?:present|positive?|positif|detected|detectee?s?|found|failed?|unsafe|echec|exceed\w*|trouvee?s?)\b/u.test(
          part,
        ) &&
          !/\b(?:no|not|none|non|absent\w*|negative?|negatif|nothing|without|free|pass\w*|aucune?|sans|pas|zero|0)\b/u.test(
            part,
          )) ||
        /\b[1-9]\d* ?(?:cfu|mpn|ufc|per 100|\/ ?100)/u.test(part),
    );
}

/** Lower case, accents off. */
const plain = (text: string): string => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
