import { cautions } from '#libs/actions/places/cautions.js';
import { sourceText } from '#libs/syrup/rules/provenance.js';

/** The cautions for some places of work, each once. */
export const cautionsFor = (...places: Parameters<typeof cautions>[0][]) => {
  const seen = new Set<string>();
  return places
    .flatMap((place) => cautions(place))
    .filter((each) => !seen.has(each.id) && seen.add(each.id))
    .map((each) => ({ ...each, source: sourceText(each) }));
};
