export type PaperSize = 'LETTER' | 'A4';
/** As typed on the command line, in an address or on a page. */
export const paperNames = ['letter', 'a4'] as const;
export type PaperName = (typeof paperNames)[number];

type Country = 'US' | 'CA';

/**
 * Both countries print on letter; A4 only on request. Canada's P4 is letter to a millimetre (CAN2-9.60M, from memory).
 */
const ofCountry: Readonly<Record<Country, PaperSize>> = { US: 'LETTER', CA: 'LETTER' };

/** The paper usual in a country: letter in the US and Canada. */
export const paperOfPlace = ({ country }: { readonly country: Country }): PaperSize => ofCountry[country];

/** The requested size, else the usual one for the sugarhouse's place. */
export const paperSize = (request: PaperName | undefined, house: { readonly paper?: PaperSize }): PaperSize =>
  request === undefined ? (house.paper ?? 'LETTER') : request === 'a4' ? 'A4' : 'LETTER';

/** The paper of a typed name; undefined where there is none. */
export const paperNamed = (typed: string): PaperName | undefined =>
  paperNames.find((name) => name === typed.trim().toLowerCase());
