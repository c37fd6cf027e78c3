import { networkInterfaces, hostname } from 'node:os';
import type { Settings } from '../settings.js';

/**
 * Whether the book answers to this Host header: loopback and the machine's own addresses always, the public address,
 * and the names the owner listed. Any other name is refused, so that somebody who points theirs at this machine can't
 * read the book through a user's browser (DNS rebinding).
 */
export function hostCheck(settings: Settings): (host: string | undefined) => boolean {
  const names = new Set<string>(['localhost', '127.0.0.1', '[::1]', ...settings.hosts]);
  if (settings.publicUrl) names.add(new URL(settings.publicUrl).hostname.toLowerCase());
  if (!['0.0.0.0', '::'].includes(settings.host)) names.add(bracketed(settings.host.toLowerCase()));
  // Read each time, since a machine gets other addresses when it moves to another network.
  const isOwn = (name: string): boolean => !isLoopback(settings.host) && ownNames().includes(name);
  return (host) => {
    if (host === undefined) return false;
    const name = /^(\[[0-9a-f:.]+\]|[^:[\]]+)(:\d{1,5})?$/i.exec(host)?.[1]?.toLowerCase().replace(/\.$/, '');
    if (name === undefined) return false;
    return names.has(name) || names.has(host.toLowerCase()) || /^127(\.\d{1,3}){3}$/.test(name) || isOwn(name);
  };
}

/** Addresses and names by which this machine can be reached. */
function ownNames(): string[] {
  const addresses = Object.values(networkInterfaces()).flatMap((cards) => (cards ?? []).map((each) => each.address));
  const own = hostname().toLowerCase();
  return [...addresses.map((each) => bracketed(each.toLowerCase())), own, `${own}.local`, `${own}.lan`];
}

/** Whether a host name or address means this machine itself. */
export const isLoopback = (host: string): boolean => host === 'localhost' || host === '::1' || /^127\./.test(host);

const bracketed = (address: string): string => (address.includes(':') ? `[${address}]` : address);
