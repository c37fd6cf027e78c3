import { readFileSync } from 'node:fs';
import { isIP } from 'node:net';
import { join, resolve } from 'node:path';
import { isZone } from '#libs/actions/times.js';
import type { Keeping } from '#libs/records/engine.js';

export interface Settings {
  /** Folder of the book: `book.sqlite`, `backups/`, `practice/`. */
  readonly folder: string;
  readonly keeping: Keeping;
  readonly host: string;
  readonly port: number;
  /** The address that labels carry, without a slash at its end; empty where none was set. */
  readonly publicUrl: string;
  /** Used until the book has a zone of its own. */
  readonly zone: string;
  /** Host names taken beside loopback, the machine's own addresses and the public address. */
  readonly hosts: readonly string[];
  /** Addresses or networks of proxies whose word about the caller is believed; none by default. */
  readonly proxies: readonly string[];
  readonly tls: { readonly cert: Buffer; readonly key: Buffer } | undefined;
  /** How many nightly backups are kept. */
  readonly backupsKept: number;
}

type Environment = Readonly<Record<string, string | undefined>>;
type Answer<T> = { readonly value: T } | { readonly fault: string };

/** Reads the settings from the environment and the flags; every one that is wrong gets its sentence, all at once. */
export function readSettings(
  env: Environment,
  flags: readonly string[] = [],
): { settings: Settings } | { faults: string[] } {
  const faults: string[] = flags
    .filter((flag) => flag !== '--lan')
    .map((flag) => `${flag}: the server takes only --lan`);
  const take = <T>(answer: Answer<T>, otherwise: T): T => {
    if ('value' in answer) return answer.value;
    faults.push(answer.fault);
    return otherwise;
  };
  const told = (name: string): string => env[name]?.trim() ?? '';

  const folder = resolve(told('BOILBOOK_DATA') || 'data');
  const url = take(databaseUrl(told('BOILBOOK_DATABASE_URL')), '');
  const settings: Settings = {
    folder,
    keeping: url ? { url } : { file: join(folder, 'book.sqlite') },
    host: told('BOILBOOK_HOST') || (flags.includes('--lan') ? '0.0.0.0' : '127.0.0.1'),
    port: take(port(told('BOILBOOK_PORT')), 8066),
    publicUrl: take(publicUrl(told('BOILBOOK_PUBLIC_URL')), ''),
    zone: take(zone(told('BOILBOOK_TIME_ZONE')), 'UTC'),
    hosts: take(hosts(told('BOILBOOK_HOSTS')), []),
    proxies: take(proxies(told('BOILBOOK_TRUST_PROXY')), []),
    tls: take(tls(told('BOILBOOK_TLS_CERT'), told('BOILBOOK_TLS_KEY')), undefined),
    backupsKept: take(backupsKept(told('BOILBOOK_BACKUPS_KEPT')), 14),
  };
  return faults.length > 0 ? { faults } : { settings };
}

function databaseUrl(text: string): Answer<string> {
  if (text === '' || (/^postgres(ql)?:\/\//.test(text) && URL.canParse(text))) return { value: text };
  // The address may hold a password, so it isn't shown again.
  return { fault: 'BOILBOOK_DATABASE_URL: expected an address like postgres://user@host/book, got something else' };
}

function port(text: string): Answer<number> {
  if (text === '') return { value: 8066 };
  if (/^\d{1,5}$/.test(text) && Number(text) <= 65535) return { value: Number(text) };
  return { fault: `BOILBOOK_PORT: expected a port from 0 to 65535, got "${text}"` };
}

function publicUrl(text: string): Answer<string> {
  if (text === '') return { value: '' };
  const url = URL.canParse(text) ? new URL(text) : undefined;
  if (url && /^https?:$/.test(url.protocol) && !url.search && !url.hash && !url.username)
    return { value: text.replace(/\/+$/, '') };
  return {
    fault: `BOILBOOK_PUBLIC_URL: expected an address like https://jars.example without ? or #, got "${text}"`,
  };
}

function zone(text: string): Answer<string> {
  const found = text || Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC';
  if (isZone(found)) return { value: found };
  return { fault: `BOILBOOK_TIME_ZONE: expected an IANA name like America/New_York, got "${found}"` };
}

const listed = (text: string): string[] =>
  text
    .split(/[\s,;]+/)
    .map((each) => each.toLowerCase())
    .filter(Boolean);

function hosts(text: string): Answer<string[]> {
  const wrong = listed(text).find((each) => !/^[a-z0-9_.:[\]-]+$/.test(each));
  if (wrong === undefined) return { value: listed(text) };
  return { fault: `BOILBOOK_HOSTS: expected host names like sugarhouse.lan, got "${wrong}"` };
}

function proxies(text: string): Answer<string[]> {
  const named = ['loopback', 'linklocal', 'uniquelocal'];
  const wrong = listed(text).find((each) => !named.includes(each) && isIP(each.replace(/\/\d{1,3}$/, '')) === 0);
  if (wrong === undefined) return { value: listed(text) };
  return { fault: `BOILBOOK_TRUST_PROXY: expected addresses like 127.0.0.1 or 10.0.0.0/8, got "${wrong}"` };
}

function tls(certPath: string, keyPath: string): Answer<Settings['tls']> {
  if (certPath === '' && keyPath === '') return { value: undefined };
  if (certPath === '')
    return { fault: 'BOILBOOK_TLS_CERT: expected a certificate beside BOILBOOK_TLS_KEY, got nothing' };
  if (keyPath === '') return { fault: 'BOILBOOK_TLS_KEY: expected a key beside BOILBOOK_TLS_CERT, got nothing' };
  try {
    return { value: { cert: readFileSync(certPath), key: readFileSync(keyPath) } };
  } catch (fault) {
    return {
      fault: `BOILBOOK_TLS_CERT, BOILBOOK_TLS_KEY: expected two files to read, got ${(fault as Error).message}`,
    };
  }
}

function backupsKept(text: string): Answer<number> {
  if (text === '') return { value: 14 };
  if (/^\d{1,4}$/.test(text)) return { value: Number(text) };
  return { fault: `BOILBOOK_BACKUPS_KEPT: expected a whole number like 14, got "${text}"` };
}
