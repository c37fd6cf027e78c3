import { isGtin, printedJarCode } from '#libs/syrup/codes/jar-codes.js';

/** Where a label's symbol will lead, and warnings to give before it is printed. */
export interface AddressJudgement {
  /**
   * As printed on labels, without a trailing slash; undefined where only this machine or local network could reach it.
   */
  readonly address: string | undefined;
  readonly lasts: boolean;
  readonly sentences: readonly string[];
}

const tracedByHandText = 'Jars can still be traced by the printed jar code and lot code.';
const textSymbolNote =
  'Labels carry a text symbol (lot, packed date, maker, phone); for a link, set an address that any phone can reach: “Address that labels carry” on the page The sugarhouse (/house), or BOILBOOK_PUBLIC_URL.';

/** Checks the public address of the book; `undefined` or an empty text means that none is set. */
export function judgeAddress(publicUrl: string | undefined): AddressJudgement {
  if (!publicUrl?.trim()) return unusableAddress('No public address is set.');
  const text = publicUrl.trim();
  const url = URL.canParse(text) ? new URL(text) : undefined;
  if (!url || !['http:', 'https:'].includes(url.protocol) || !url.hostname)
    return unusableAddress(`The public address "${text}" is not one like https://example.org.`);
  if (url.search || url.hash || url.username)
    return unusableAddress(`The public address "${text}" must have no question mark, # or sign-in in it.`);
  const address = url.href.replace(/\/+$/, '');
  const where = whyUnreachable(url.hostname.replace(/^\[|\]$/g, '').toLowerCase());
  if (where === reservedForExamples)
    return { address, lasts: false, sentences: [`The public address ${address} ${where}`, tracedByHandText] };
  if (where) return unusableAddress(`The public address ${address} ${where}`);
  return { address, lasts: true, sentences: lastingNotes(url, address) };
}

function unusableAddress(because: string): AddressJudgement {
  return { address: undefined, lasts: false, sentences: [because, textSymbolNote] };
}

function lastingNotes(url: URL, address: string): string[] {
  const notes: string[] = [];
  if (url.protocol === 'http:') notes.push(`${address} is not https: phones may warn before they open it.`);
  if (/[a-z]/.test(url.pathname))
    notes.push(
      `${address} has lower-case letters after the host name, so the QR code is larger than one with capitals only.`,
    );
  return notes;
}

/** Why a customer's phone can't reach an address; undefined where it can. */
function whyUnreachable(host: string): string | undefined {
  if (
    host === 'localhost' ||
    host.endsWith('.localhost') ||
    /^127\./.test(host) ||
    host === '::1' ||
    host === '0.0.0.0'
  )
    return 'is this machine itself: no phone will reach it.';
  if (/^(10\.|192\.168\.|172\.(1[6-9]|2\d|3[01])\.|169\.254\.|100\.(6[4-9]|[7-9]\d|1[01]\d|12[0-7])\.)/.test(host))
    return 'is a private one: only phones on the sugarhouse’s own network will reach it.';
  if (host.includes(':') && /^(f[cd]|fe[89ab])/.test(host))
    return 'is a private one: only phones on the sugarhouse’s own network will reach it.';
  if (
    /\.(local|lan|home|internal|home\.arpa|intranet|private|corp)$/.test(host) ||
    (!host.includes('.') && !host.includes(':'))
  )
    return 'is a name of the house’s own network: a customer’s phone will not reach it.';
  if (/\.(example|test|invalid)$/.test(host) || /(^|\.)example\.(com|org|net)$/.test(host)) return reservedForExamples;
  return undefined;
}

const reservedForExamples = 'is reserved for examples: no phone can open it.';

/** `PUBLIC_URL/J/CODE` in capitals, which QR encodes in fewer modules; a path with small letters stays as typed. */
export function jarLink(address: string, code: string): string {
  return `${upperCaseOrigin(address)}/J/${code}`;
}

/** A GS1 Digital Link of the maker's own GTIN: the identifiers in their fixed order, nothing in a query. */
export function gs1Link(address: string, gtin: string, lot: string, code: string): string {
  if (!isGtin(gtin))
    throw new RangeError(`GTIN: expected 8, 12, 13 or 14 digits with a valid check digit, got "${gtin}"`);
  return `${upperCaseOrigin(address)}/01/${gtin.padStart(14, '0')}/10/${pathPart(lot)}/21/${pathPart(code)}`;
}

/** The symbol's text in place of a link: capitals only and no accents, so that it stays small. */
export function textSymbol(label: {
  lot: string;
  code?: string | undefined;
  packedText: string;
  maker: string;
  phone?: string | undefined;
}): string {
  const jar = label.code === undefined ? '' : `JAR ${printedJarCode(label.code)}`;
  return [`LOT ${label.lot}`, jar, label.packedText, label.maker, label.phone ?? '']
    .join(' ')
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toUpperCase()
    .replace(/[,;·()]/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();
}

function upperCaseOrigin(address: string): string {
  const url = new URL(address);
  const path = url.pathname.replace(/\/+$/, '');
  return `${url.protocol}//${url.host}`.toUpperCase() + path;
}

const pathPart = (text: string): string =>
  encodeURIComponent(text).replace(/[!'()*]/g, (letter) => `%${letter.charCodeAt(0).toString(16).toUpperCase()}`);
