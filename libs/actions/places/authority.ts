import type { HouseBody } from '#libs/records/kinds/house.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';

interface RulesInForce {
  readonly house: HouseBody | undefined;
  readonly place: Pick<PlaceRules, 'authority'>;
}

/** Whom to ask and about what, the maker's own authorities first; shown wherever the book says to ask. */
export const authoritiesToAsk = ({ house, place }: RulesInForce): string[] => [
  ...ownAuthorities(house),
  ...place.authority.map(({ name, ask }) => `${name}: ${ask}`),
];

/** The maker's own authority, then that of each other place the maker sells in. */
export const ownAuthorities = (house: HouseBody | undefined): string[] => [
  ownAuthority(house),
  ...([2, 3] as const).flatMap((n) => otherAuthority(house, n) ?? []),
];

/**
 * The authority that the maker recorded, and which details are missing. No telephone number is shipped: numbers change,
 * and a wrong one is worse than none on the day of a recall.
 */
function ownAuthority(house: HouseBody | undefined): string {
  const { authority = '', authorityPhone = '', authorityAddress = '', authorityWith = '', authorityOn } = house ?? {};
  if ([authority, authorityPhone, authorityAddress].every((text) => text === ''))
    return 'Your authority: not recorded. Enter its name, telephone and address under The sugarhouse once, and confirm them by telephone.';
  return authorityText('Your authority', {
    name: authority,
    phone: authorityPhone,
    address: authorityAddress,
    confirmedWith: authorityWith,
    on: authorityOn,
  });
}

function otherAuthority(house: HouseBody | undefined, n: 2 | 3): string | undefined {
  const text = (field: 'Place' | '' | 'Phone' | 'Address' | 'With'): string => house?.[`authority${n}${field}`] ?? '';
  const each = { name: text(''), phone: text('Phone'), address: text('Address'), confirmedWith: text('With') };
  if ([text('Place'), each.name, each.phone, each.address].every((value) => value === '')) return undefined;
  return authorityText(`Your authority in ${text('Place') || 'another place you sell in'}`, {
    ...each,
    on: house?.[`authority${n}On`],
  });
}

interface AuthorityTyped {
  readonly name: string;
  readonly phone: string;
  readonly address: string;
  readonly confirmedWith: string;
  readonly on: string | undefined;
}

function authorityText(whose: string, { name, phone, address, confirmedWith, on }: AuthorityTyped): string {
  const confirmed =
    confirmedWith !== '' && on
      ? `confirmed by telephone with ${confirmedWith} on ${on}`
      : 'not confirmed yet: call them, and enter with whom and when under The sugarhouse';
  return `${whose}: ${name || 'name not recorded'}, telephone ${phone || 'not recorded'}, address ${address || 'not recorded'}; ${confirmed}.`;
}
