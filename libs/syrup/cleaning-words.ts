/** What a cleaning's free words say: what was washed, with what. English and French. */

/** Whether what was cleaned is what the sap boils in: `all pans, draw-off`, `evaporator`, `les casseroles`. */
export const washesPans = (what: string): boolean =>
  /\b(?:pans?|evaporator|rig|everything|all of it|boiling kettle|casseroles?|evaporateur|tout|bassins?)\b/u.test(
    plain(what),
  );

/** Lower case, accents off. */
const plain = (text: string): string => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
