import type { LabelContent, Undrawable } from '../content/label.js';
import { displayFace, type LabelLook, plainLook } from '../content/label-look.js';
import { labelText } from '../content/label-text.js';
import { type Face, runsOf } from './type-faces.js';

/** Characters of the label that the typeface lacks, by field: reported before anything is printed. */
export function undrawable(content: LabelContent, look: LabelLook = plainLook): Undrawable[] {
  return fields(content).flatMap(([field, text]) => {
    const face: Face = /^(Maker|Product)/.test(field) ? displayFace('heavy', look) : 'words';
    const characters = runsOf(text, face).undrawable.filter((character) => character !== ' ');
    return characters.length > 0 ? [{ field, characters }] : [];
  });
}

/** All printed texts except the net quantity and the code, which use only characters that the typeface has. */
function fields(content: LabelContent): [string, string][] {
  const { maker, text: words, lot } = labelText(content, 0);
  return [...maker, ...words, ...lot].map(({ item, text }) => [item, text]);
}
