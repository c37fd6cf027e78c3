import { join } from 'node:path';
import type { Server as TlsServer } from 'node:tls';
import type { Settings } from '../settings.js';
import { type HouseCertificate, houseCertificate } from './house-certificate.js';
import { houseNames } from './house-names.js';

export interface RenewedCertificate {
  readonly current: () => HouseCertificate;
  /**
   * Checks every minute whether the addresses changed or the certificate expires soon. Returns a function that stops
   * it.
   */
  readonly renewOn: (server: TlsServer, say: (line: string) => void) => () => void;
}

/**
 * The certificate of `--tls`, stored in the data folder's `tls/`; on PostgreSQL too, since it belongs to the machine.
 */
export async function renewHouseCertificate(
  { folder, hosts }: Pick<Settings, 'folder' | 'hosts'>,
  clock: () => Date,
): Promise<RenewedCertificate> {
  const made = (): Promise<HouseCertificate> => houseCertificate(join(folder, 'tls'), houseNames(hosts), clock());
  let current = await made();
  return {
    current: () => current,
    renewOn: (server, say) => {
      const look = async (): Promise<void> => {
        const next = await made();
        if (!next.renewed) return;
        current = next;
        server.setSecureContext({ cert: next.cert, key: next.key });
        say('The addresses of this machine changed, or its certificate was near its end: a new one is in use.');
      };
      const each = setInterval(
        () => void look().catch((fault: unknown) => say(`No new certificate: ${(fault as Error).message}`)),
        60_000,
      );
      each.unref();
      return () => clearInterval(each);
    },
  };
}
