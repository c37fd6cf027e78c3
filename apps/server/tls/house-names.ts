import { hostname, networkInterfaces, type NetworkInterfaceInfo } from 'node:os';
import { isIP, isIPv4 } from 'node:net';

/**
 * Domain endings for which a house's authority may issue certificates: none of them exists on the public internet.
 * `local` is RFC 6762, `home.arpa` RFC 8375, `internal` reserved by ICANN in 2024; `lan` and `home` are what home
 * routers use (common practice, no source).
 */
export const localEndings = ['localhost', 'local', 'lan', 'home', 'home.arpa', 'internal'] as const;

/**
 * Networks for which it may issue certificates, as address and mask in hex: private, link-local and loopback (RFC 1918,
 * 3927, 4193, 4291).
 */
export const privateNetworks = [
  '0a000000ff000000',
  'ac100000fff00000',
  'c0a80000ffff0000',
  'a9fe0000ffff0000',
  '7f000000ff000000',
  `fc${'00'.repeat(15)}fe${'00'.repeat(15)}`,
  `${'00'.repeat(15)}01${'ff'.repeat(16)}`,
] as const;

/** Whether an IP address is private, link-local or loopback, so that a certificate of our own may name it. */
export const isPrivateAddress = (address: string): boolean =>
  isIPv4(address)
    ? /^(10\.|172\.(1[6-9]|2\d|3[01])\.|192\.168\.|169\.254\.|127\.)/.test(address)
    : isIP(address) === 6 && (/^f[cd]/i.test(address) || address === '::1');

/** Whether a host name has an ending of local networks, such as `.local`. */
export const isLocalName = (name: string): boolean =>
  /^[a-z0-9-]+(\.[a-z0-9-]+)*$/.test(name) && localEndings.some((end) => name === end || name.endsWith(`.${end}`));

type Interfaces = Readonly<Record<string, readonly Pick<NetworkInterfaceInfo, 'address'>[] | undefined>>;

/**
 * What a certificate of this machine should list today, in a stable order, without names or addresses outside the
 * limits.
 */
export function houseNames(
  more: readonly string[],
  interfaces: Interfaces = networkInterfaces(),
  own: string = hostname(),
): { readonly names: readonly string[]; readonly addresses: readonly string[] } {
  const machine = own.toLowerCase().split('.')[0] ?? '';
  const byName = [own.toLowerCase(), `${machine}.local`, `${machine}.lan`, ...more];
  const found = Object.values(interfaces).flatMap((some) => (some ?? []).map(({ address }) => address.toLowerCase()));
  return {
    names: ['localhost', ...new Set(byName.filter((name) => name !== 'localhost' && isLocalName(name)))].sort(),
    addresses: [...new Set(['127.0.0.1', '::1', ...found, ...more].filter(isPrivateAddress))].sort(),
  };
}
