import type { HouseBody } from '#libs/records/record-types.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';

interface Asked {
  readonly house: HouseBody | undefined;
  readonly place: Pick<PlaceRules, 'authority'>;
}

/** Whom to ask and about what, the maker's own authority first: shown wherever the book says to ask. */
export const whomToAsk = ({ house, place }: Asked): string[] => [
  ownAuthority(house),
  ...place.authority.map(({ name, ask }) => `${name}: ${ask}`),
];

/**
 * The authority that the maker wrote down, with what is missing of it. Nobody's number is shipped: telephones change,
 * and a wrong one is worse than none on the day of a recall.
 */
export function ownAuthority(house: HouseBody | undefined): string {
  const { authority = '', authorityPhone = '', authorityAddress = '', authorityWith = '', authorityOn } = house ?? {};
  if ([authority, authorityPhone, authorityAddress].every((text) => text === ''))
    return 'Your authority: not recorded. Write its name, telephone and address under The sugarhouse once, and confirm them by telephone.';
  const confirmed =
    authorityWith !== '' && authorityOn
      ? `confirmed by telephone with ${authorityWith} on ${authorityOn}`
      : 'not confirmed yet: call them, and write with whom and when under The sugarhouse';
  return `Your authority: ${authority || 'name not recorded'}, telephone ${authorityPhone || 'not recorded'}, address ${authorityAddress || 'not recorded'}; ${confirmed}.`;
}
