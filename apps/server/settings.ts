import { readFileSync } from 'node:fs';
import { isIP } from 'node:net';
import {
  type BookSettings,
  type Environment,
  readBookSettings,
  type Setting,
  settingTaker,
} from '#libs/actions/accounts/book-settings.js';

export interface Settings extends BookSettings {
  readonly host: string;
  readonly port: number;
  /** Host names accepted besides loopback, the machine's own addresses and the public address. */
  readonly hosts: readonly string[];
  /** Addresses or networks of trusted proxies; none by default. */
  readonly proxies: readonly string[];
  readonly tls: { readonly cert: Buffer; readonly key: Buffer } | undefined;
  /** Serve over TLS with a certificate of the house's own (apps/server/tls). */
  readonly houseTls: boolean;
  /** How many nightly backups are kept; 0 makes none. */
  readonly backupCount: number;
  /** Create a new book even where traces of another are found. */
  readonly beginNewBook: boolean;
}

/** Reads the settings from the environment and the flags; every invalid one gets its sentence, all at once. */
export function readSettings(
  env: Environment,
  flags: readonly string[] = [],
): { settings: Settings } | { faults: string[] } {
  const { settings: bookSettings, faults } = readBookSettings(env);
  faults.push(
    ...flags
      .filter((flag) => !['--lan', '--tls', '--begin-anew'].includes(flag))
      .map((flag) => `${flag}: unknown option; the server’s options are --lan, --tls and --begin-anew`),
  );
  const take = settingTaker(faults);
  const variable = (name: string): string => env[name]?.trim() ?? '';
  const settings: Settings = {
    ...bookSettings,
    host: variable('BOILBOOK_HOST') || (flags.includes('--lan') ? '0.0.0.0' : '127.0.0.1'),
    port: take(port(variable('BOILBOOK_PORT')), 8066),
    hosts: take(hosts(variable('BOILBOOK_HOSTS')), []),
    proxies: take(proxies(variable('BOILBOOK_TRUST_PROXY')), []),
    tls: take(tls(variable('BOILBOOK_TLS_CERT'), variable('BOILBOOK_TLS_KEY')), undefined),
    houseTls: flags.includes('--tls'),
    beginNewBook: flags.includes('--begin-anew'),
    backupCount: take(readBackupCount(variable('BOILBOOK_BACKUPS_KEPT')), 14),
  };
  if (settings.houseTls && settings.tls)
    faults.push('--tls makes a certificate itself: leave it out, or unset BOILBOOK_TLS_CERT and BOILBOOK_TLS_KEY');
  return faults.length > 0 ? { faults } : { settings };
}

function port(text: string): Setting<number> {
  if (text === '') return { value: 8066 };
  if (/^\d{1,5}$/.test(text) && Number(text) <= 65535) return { value: Number(text) };
  return { fault: `BOILBOOK_PORT: expected a port from 0 to 65535, got "${text}"` };
}

const splitList = (text: string): string[] =>
  text
    .split(/[\s,;]+/)
    .map((each) => each.toLowerCase())
    .filter(Boolean);

function hosts(text: string): Setting<string[]> {
  const invalid = splitList(text).find((each) => !/^[a-z0-9_.:[\]-]+$/.test(each));
  if (invalid === undefined) return { value: splitList(text) };
  return { fault: `BOILBOOK_HOSTS: expected host names like sugarhouse.lan, got "${invalid}"` };
}

function proxies(text: string): Setting<string[]> {
  const namedRanges = ['loopback', 'linklocal', 'uniquelocal'];
  const invalid = splitList(text).find(
    (each) => !namedRanges.includes(each) && isIP(each.replace(/\/\d{1,3}$/, '')) === 0,
  );
  if (invalid === undefined) return { value: splitList(text) };
  return { fault: `BOILBOOK_TRUST_PROXY: expected addresses like 127.0.0.1 or 10.0.0.0/8, got "${invalid}"` };
}

function tls(certPath: string, keyPath: string): Setting<Settings['tls']> {
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

function readBackupCount(text: string): Setting<number> {
  if (text === '') return { value: 14 };
  if (/^\d{1,4}$/.test(text)) return { value: Number(text) };
  return { fault: `BOILBOOK_BACKUPS_KEPT: expected a whole number like 14, got "${text}"` };
}
