import type { LabelContent, Undrawable } from '../content/label.js';
import { displayFace, type LabelLook, plainLook } from '../content/label-look.js';
import { type Face, runsOf } from './type-faces.js';

/** Letters of the label that the typeface doesn't have, by field: named before anything is printed. */
export function undrawable(content: LabelContent, look: LabelLook = plainLook): Undrawable[] {
  return fields(content).flatMap(([field, text]) => {
    const face: Face = /^(Maker|Product)/.test(field) ? displayFace('heavy', look) : 'words';
    const characters = runsOf(text, face).undrawable.filter((character) => character !== ' ');
    return characters.length > 0 ? [{ field, characters }] : [];
  });
}

function fields({
  product,
  productFr,
  gradeWords,
  gradeWordsFr,
  lot,
  maker,
  allergens,
  bestBefore,
  keep,
  keepFr,
}: LabelContent): [string, string][] {
  const found: [string, string | null | undefined][] = [
    ['Product', product],
    ['Product in French', productFr],
    ['Grade', gradeWords],
    ['Grade in French', gradeWordsFr],
    ['Lot', lot],
    ['Maker', maker.name],
    ...maker.lines.map((line): [string, string] => ['Address', line]),
    ['Phone', maker.phone],
    ['Allergens', allergens?.join(', ')],
    ['Best before', bestBefore],
    ['Keeping', keep],
    ['Keeping in French', keepFr],
  ];
  return found.filter((pair): pair is [string, string] => Boolean(pair[1]));
}
