import { hostname, networkInterfaces, type NetworkInterfaceInfo } from 'node:os';
import type { FastifyRequest } from 'fastify';
import { isLoopback } from './host-names.js';
import type { PhoneAddresses, Server } from './server.js';

type Interfaces = Readonly<Record<string, readonly Pick<NetworkInterfaceInfo, 'address' | 'internal'>[] | undefined>>;

/**
 * The addresses of a server that listens on `host`, the one most likely to work for a phone of the house first: a
 * private IPv4 address of a physical network card, then any other, then bridges and tunnels of virtual machines, which
 * no phone uses. Undefined where only this machine reaches it, or where the machine is on no network.
 */
export function phoneAddressesOf(
  { host, scheme, port }: { host: string; scheme: string; port: number },
  interfaces: Interfaces = networkInterfaces(),
): PhoneAddresses | undefined {
  if (isLoopback(host)) return undefined;
  const onEveryInterface = host === '0.0.0.0' || host === '::';
  const addresses = onEveryInterface ? rankedAddresses(interfaces, host === '::') : [host];
  const [first, ...others] = addresses.map((each) => `${scheme}://${each.includes(':') ? `[${each}]` : each}:${port}`);
  if (first === undefined) return undefined;
  const name = hostname().toLowerCase().split('.')[0] ?? '';
  return { first, others, byName: onEveryInterface && name !== '' ? `${scheme}://${name}.local:${port}` : undefined };
}

function rankedAddresses(interfaces: Interfaces, withIpv6: boolean): string[] {
  return Object.entries(interfaces)
    .flatMap(([name, cards]) => (cards ?? []).map(({ address, internal }) => ({ name, address, internal })))
    .filter(({ address, internal }) => !internal && !/^fe80:/i.test(address) && (withIpv6 || !address.includes(':')))
    .map((each) => ({ address: each.address, rank: rankOf(each.name, each.address) }))
    .sort((one, other) => one.rank - other.rank)
    .map(({ address }) => address);
}

function rankOf(card: string, address: string): number {
  if (virtualCards.test(card)) return 4;
  if (address.includes(':')) return 3;
  if (/^169\.254\./.test(address)) return 3;
  if (/^192\.168\./.test(address)) return 0;
  return /^(10\.|172\.(1[6-9]|2\d|3[01])\.)/.test(address) ? 1 : 2;
}

/** Names that systems give to bridges, tunnels and the cards of virtual machines (from memory). */
const virtualCards =
  /^(docker|br-|veth|virbr|vmnet|vboxnet|cni|flannel|podman|lxc|lxd|tun|tap|wg|utun|awdl|llw|bridge|zt|tailscale|vEthernet)/i;

/** Whether the request comes from this machine under its own name: only then are the machine's addresses shown. */
export const isAtThisMachine = (request: FastifyRequest): boolean =>
  isLoopback(request.hostname.replace(/^\[|\]$/g, '')) && /^(127\.|::1$|::ffff:127\.)/.test(request.ip);

/**
 * The address for others to open: the public one if set; at the machine itself, whose own name works nowhere else, its
 * address in the local network; else the address this page was requested by.
 */
export function addressForOthers(server: Server, request: FastifyRequest): string {
  if (server.settings.publicUrl) return server.settings.publicUrl;
  const addresses = isAtThisMachine(request) ? server.phoneAddresses?.()?.first : undefined;
  return addresses ?? `${request.protocol}://${request.headers.host ?? request.hostname}`;
}
