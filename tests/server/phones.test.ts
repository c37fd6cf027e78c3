import { networkInterfaces } from 'node:os';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import jsqr from 'jsqr';
import { symbolForTerminal } from '#libs/labels/symbol/symbol-terminal.js';
import { phoneAddressesOf } from '../../apps/server/http/own-addresses.js';
import { temporaryFolder, endAll, started, type Started } from '../support/server-process.js';

afterAll(endAll);

/** The text that a decoder reads from a picture of modules, `true` for dark. */
function decoded(rows: readonly (readonly boolean[])[]): string | undefined {
  const dots = 4;
  const [width, height] = [Math.max(...rows.map((row) => row.length)) * dots, rows.length * dots];
  const pixels = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (rows[Math.floor(y / dots)]?.[Math.floor(x / dots)])
        pixels.fill(0, (y * width + x) * 4, (y * width + x) * 4 + 3);
  const read = (jsqr as unknown as typeof jsqr.default)(pixels, width, height, { inversionAttempts: 'dontInvert' });
  return read?.data;
}

/** Lines of half blocks as they look where text is dark on light. */
const modulesIn = (lines: readonly string[]): boolean[][] =>
  lines.flatMap((line) => {
    const cells = [...line];
    return [cells.map((cell) => '▀█'.includes(cell)), cells.map((cell) => '▄█'.includes(cell))];
  });

/** The QR code that a page draws, from the path of its picture. */
function symbolOn(html: string): string | undefined {
  const side = Number(/class="address-symbol"><svg viewBox="-4 -4 (\d+)/.exec(html)?.[1] ?? 0);
  const rows = Array.from({ length: side }, () => Array.from({ length: side }, () => false));
  const path = /class="address-symbol">.*?<path d="([^"]*)"/s.exec(html)?.[1] ?? '';
  for (const [, x, y, run] of path.matchAll(/M(\d+) (\d+)h(\d+)v1/g)) {
    for (let n = 0; n < Number(run); n++) rows[Number(y) + 4]![Number(x) + 4 + n] = true;
  }
  return side === 0 ? undefined : decoded(rows);
}

const person = {
  name: 'Tamarack Hollow Sugarhouse',
  place: 'Vermont',
  hydrometerMadeFor: '60-F',
  initials: 'WE',
  person: 'Wren Ellery',
  password: 'steam over the long pan',
};

/** Claims the book; returns its owner's cookies. */
async function claimed(server: Started): Promise<string> {
  const word = /valid for one hour: (\S+)/.exec(server.output())?.[1] ?? '';
  const done = await fetch(`${server.address}/set-up`, {
    method: 'POST',
    redirect: 'manual',
    headers: { origin: server.address },
    body: new URLSearchParams({ word, ...person }),
  });
  const cookies = done.headers.getSetCookie().map((each) => each.split(';')[0]);
  return cookies.join('; ');
}

describe('a server for the phones of the house', () => {
  let server: Started;
  const isOnNetwork = phoneAddressesOf({ host: '0.0.0.0', scheme: 'http', port: 1 }) !== undefined;
  /** Without a network these tests are not registered, so that nothing untested counts as passed. */
  const onNetwork = (title: string, tried: () => void | Promise<void>): void => {
    if (isOnNetwork) test(title, tried);
  };
  if (!isOnNetwork) console.warn('This machine is on no network: what phones are shown is tried in part only.');

  let first = '';
  beforeAll(async () => {
    server = await started(temporaryFolder(), {}, ['--lan']);
    first = /^Phones on the same network: (\S+)$/m.exec(server.output())?.[1] ?? '';
  });

  onNetwork('prints an address of this machine, and a symbol beside it that says the same', () => {
    const own = Object.values(networkInterfaces()).flatMap((some) => (some ?? []).map((each) => each.address));
    expect(own).toContain(new URL(first).hostname);
    const lines = server
      .output()
      .split('\n')
      .filter((line) => /^[ ▀▄█]+$/.test(line));
    expect(decoded(modulesIn(lines))).toBe(first);
  });

  onNetwork('answers by the address that it printed', async () => {
    expect((await fetch(`${first}/healthz`)).status).toBe(200);
  });

  onNetwork(
    'shows the address, and never the word, where the book is set up at the machine itself, and to nobody else',
    async () => {
      const here = await (await fetch(`${server.address}/set-up`)).text();
      expect(symbolOn(here)).toBe(first);
      const word = /valid for one hour: (\S+)/.exec(server.output())?.[1] ?? 'no word';
      expect(here).not.toContain(word);
      const elsewhere = await (await fetch(`${first}/set-up`)).text();
      expect(elsewhere).toContain('Set up your record book');
      expect(symbolOn(elsewhere)).toBeUndefined();
    },
  );

  onNetwork(
    'shows its owner the same symbol on the first page and another on the sheet that hangs on the wall',
    async () => {
      const cookie = await claimed(server);
      const today = await (await fetch(`${server.address}/`, { headers: { cookie } })).text();
      expect(symbolOn(today)).toBe(first);
      expect(today).toContain(`>${first}</p>`);
      const sheet = await (await fetch(`${server.address}/sheets/pack`, { headers: { cookie } })).text();
      expect(symbolOn(sheet)).toBe(`${first}/packs/finished`);
      expect(await (await fetch(`${server.address}/sign-in`)).text()).not.toContain('address-symbol');
    },
  );
});

test('by default the server serves only this machine, and says how to change that', async () => {
  const server = await started(temporaryFolder());
  expect(server.output()).toContain(
    'Only this machine can open it. For phones on the same network: npm start -- --lan',
  );
  expect(server.output()).not.toMatch(/[▀▄█]/);
  const cookie = await claimed(server);
  expect(await (await fetch(`${server.address}/`, { headers: { cookie } })).text()).not.toContain('address-symbol');
  const own = phoneAddressesOf({ host: '0.0.0.0', scheme: 'http', port: Number(new URL(server.address).port) });
  if (own) await expect(fetch(own.first)).rejects.toThrow();
});

test('of several addresses the one that a phone of the house can reach is listed first', () => {
  const card = (...addresses: string[]) => addresses.map((address) => ({ address, internal: false }));
  const interfaces = {
    lo: [{ address: '127.0.0.1', internal: true }],
    docker0: card('172.17.0.1'),
    'br-5c1e': card('172.18.0.1'),
    tailscale0: card('100.101.102.103'),
    eth0: card('10.4.0.7', 'fe80::1', '2001:db8::7'),
    wlan0: card('192.168.1.20'),
    usb0: card('169.254.9.9'),
  };
  const order = (host: string) => {
    const reached = phoneAddressesOf({ host, scheme: 'http', port: 8066 }, interfaces);
    return [reached?.first, ...(reached?.others ?? [])].map((each) => each && new URL(each).host);
  };
  expect(order('0.0.0.0')).toEqual(
    ['192.168.1.20', '10.4.0.7', '169.254.9.9', '172.17.0.1', '172.18.0.1', '100.101.102.103'].map(
      (each) => `${each}:8066`,
    ),
  );
  expect(order('::')).toContain('[2001:db8::7]:8066');
  expect(order('10.4.0.7')).toEqual(['10.4.0.7:8066']);
  expect(order('127.0.0.1')).toEqual([undefined]);
  expect(phoneAddressesOf({ host: '0.0.0.0', scheme: 'http', port: 8066 }, { lo: interfaces.lo })).toBeUndefined();
});

test('in a terminal the QR code sets its own colours, dark on light whatever the terminal’s are', async () => {
  const lines = await symbolForTerminal('http://192.168.1.20:8066', true);
  for (const line of lines) expect(line).toMatch(/^\u001b\[30;107m[ ▀▄█]+\u001b\[0m$/);
  expect(decoded(modulesIn(lines.map((line) => line.replace(/\u001b\[[\d;]+m/g, ''))))).toBe(
    'http://192.168.1.20:8066',
  );
});
