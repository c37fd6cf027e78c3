import { cautions } from '#libs/actions/places/cautions.js';
import { sourceText } from '#libs/syrup/rules/marks.js';

/** The cautions of a page, by where its work is, each once. */
export const cautionsFor = (...places: Parameters<typeof cautions>[0][]) => {
  const seen = new Set<string>();
  return places
    .flatMap((place) => cautions(place))
    .filter((each) => !seen.has(each.id) && seen.add(each.id))
    .map((each) => ({ ...each, source: sourceText(each) }));
};
