import { join, resolve } from 'node:path';
import type { BookLocation } from '#libs/store/connection/engine.js';
import { isZone } from '../record/times.js';

export type Environment = Readonly<Record<string, string | undefined>>;

/** Where the book is and how to open it, from the environment; the same for the server and the command line. */
export interface BookSettings {
  /** Folder of the book: `book.sqlite`, `backups/`, `practice/`. */
  readonly folder: string;
  readonly location: BookLocation;
  /** The public address printed on labels, without a trailing slash; empty where none is set. */
  readonly publicUrl: string;
  /** Used until the book sets its own zone. */
  readonly zone: string;
}

export type Setting<T> = { readonly value: T } | { readonly fault: string };

/** Reads all settings; returns a sentence for every invalid one at once. */
export function readBookSettings(env: Environment): { settings: BookSettings; faults: string[] } {
  const faults: string[] = [];
  const take = settingTaker(faults);
  const input = (name: string): string => env[name]?.trim() ?? '';
  const folder = resolve(input('BOILBOOK_DATA') || 'data');
  const url = take(databaseUrl(input('BOILBOOK_DATABASE_URL')), '');
  const configuredZone = take(zone(input('BOILBOOK_TIME_ZONE')), '');
  let machineZone: string | undefined;
  const settings = {
    folder,
    location: url ? { url } : { file: join(folder, 'book.sqlite') },
    publicUrl: take(publicUrl(input('BOILBOOK_PUBLIC_URL')), ''),
    get zone(): string {
      return configuredZone || (machineZone ??= detectMachineZone());
    },
  };
  return { settings, faults };
}

/** Takes a setting's value, or records its fault and continues with the default. */
export const settingTaker =
  (faults: string[]) =>
  <T>(setting: Setting<T>, fallback: T): T => {
    if ('value' in setting) return setting.value;
    faults.push(setting.fault);
    return fallback;
  };

function databaseUrl(text: string): Setting<string> {
  if (text === '' || (/^postgres(ql)?:\/\//.test(text) && URL.canParse(text))) return { value: text };
  // The address may contain a password, so it isn't printed.
  return { fault: 'BOILBOOK_DATABASE_URL: expected an address like postgres://user@host/book, got something else' };
}

function publicUrl(text: string): Setting<string> {
  if (text === '') return { value: '' };
  const url = URL.canParse(text) ? new URL(text) : undefined;
  if (url && /^https?:$/.test(url.protocol) && !url.search && !url.hash && !url.username)
    return { value: text.replace(/\/+$/, '') };
  return { fault: `BOILBOOK_PUBLIC_URL: expected an address like https://jars.example without ? or #, got "${text}"` };
}

function zone(text: string): Setting<string> {
  if (text === '' || isZone(text)) return { value: text };
  return { fault: `BOILBOOK_TIME_ZONE: expected an IANA name like America/New_York, got "${text}"` };
}

/** The zone of this machine. Called only where it is needed: it loads the time zone tables, 5 % of a short command. */
function detectMachineZone(): string {
  const found = Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC';
  return isZone(found) ? found : 'UTC';
}
