export type PaperSize = 'LETTER' | 'A4';
/** As typed on the command line, in an address or on a page. */
export const paperNames = ['letter', 'a4'] as const;
export type PaperName = (typeof paperNames)[number];

type Country = 'US' | 'CA';

/**
 * Both countries print on letter; A4 only on request. Canada's P4 is letter to a millimetre (CAN2-9.60M, from memory).
 */
const usualSize: Readonly<Record<Country, PaperSize>> = { US: 'LETTER', CA: 'LETTER' };

/** The paper usual in a country: letter in the US and Canada. */
export const paperOfCountry = ({ country }: { readonly country: Country }): PaperSize => usualSize[country];

/** The requested size, else the usual one for the sugarhouse's place. */
export const paperSize = (requested: PaperName | undefined, house: { readonly paper?: PaperSize }): PaperSize =>
  requested === undefined ? (house.paper ?? 'LETTER') : requested === 'a4' ? 'A4' : 'LETTER';

/** The paper of a typed name; undefined where there is none. */
export const paperNamed = (typed: string): PaperName | undefined =>
  paperNames.find((name) => name === typed.trim().toLowerCase());
