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
  readonly renewOn: (server: TlsServer, printLine: (line: string) => void) => () => void;
}

/**
 * The certificate of `--tls`, stored in the data folder's `tls/`; on PostgreSQL too, since it belongs to the machine.
 */
export async function renewHouseCertificate(
  { folder, hosts }: Pick<Settings, 'folder' | 'hosts'>,
  clock: () => Date,
): Promise<RenewedCertificate> {
  const issue = (): Promise<HouseCertificate> => houseCertificate(join(folder, 'tls'), houseNames(hosts), clock());
  let current = await issue();
  return {
    current: () => current,
    renewOn: (server, printLine) => {
      const renewIfNeeded = async (): Promise<void> => {
        const next = await issue();
        if (!next.renewed) return;
        current = next;
        server.setSecureContext({ cert: next.cert, key: next.key });
        printLine('The addresses of this machine changed, or its certificate was near its end: a new one is in use.');
      };
      const timer = setInterval(
        () =>
          void renewIfNeeded().catch((fault: unknown) => printLine(`No new certificate: ${(fault as Error).message}`)),
        60_000,
      );
      timer.unref();
      return () => clearInterval(timer);
    },
  };
}
