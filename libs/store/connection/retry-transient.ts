import { setTimeout as pause } from 'node:timers/promises';

/** How long a reader or a writer goes on trying to reach a PostgreSQL that is away: a restart takes seconds. */
export const writeTimeoutMs = 30_000;

/**
 * Runs a piece of work again, after a pause that grows, while what went wrong may be answered by running it again.
 * The work must be one that may be run twice: see who calls this for why each may.
 */
export async function retryTransient<T>(
  work: () => Promise<T>,
  mayAgain: (fault: unknown) => boolean = isPassing,
  giveUpAtMs = Date.now() + writeTimeoutMs,
): Promise<T> {
  for (let attempt = 0; ; attempt++)
    try {
      return await work();
    } catch (fault) {
      // Writers that conflict must not meet again in step, hence the part by chance.
      const waitMs = Math.min(1000, 20 * 2 ** attempt) * (0.5 + Math.random());
      if (!mayAgain(fault) || Date.now() + waitMs > giveUpAtMs) throw fault;
      await pause(waitMs);
    }
}

/** A fault that passes: the connection was lost or not to be had, or two transactions were in each other's way. */
export const isPassing = (fault: unknown): boolean => isLost(fault) || isConflict(fault);

/** The engine rolled the transaction back so that another could go on. */
export const isConflict = (fault: unknown): boolean => causes(fault).some(({ code }) => conflicts.has(code));

/** The connection broke, or none could be had. What was under way and not committed is rolled back by the engine. */
export const isLost = (fault: unknown): boolean =>
  causes(fault).some(({ code, name, message }) => lost.test(code) || gone.test(`${name}: ${message}`));

// PostgreSQL, appendix A: serialization_failure, deadlock_detected.
const conflicts: ReadonlySet<string> = new Set(['40001', '40P01']);
// The same: class 08, too_many_connections, admin_shutdown, crash_shutdown, cannot_connect_now. Then Node's own.
const lost = /^(08...|53300|57P0[123]|E(CONNREFUSED|CONNRESET|PIPE|TIMEDOUT|HOSTUNREACH|NETUNREACH|AI_AGAIN))$/;
// Messages of the driver for a lost connection, which carry no code.
const gone =
  /Connection terminated|Client has encountered a connection error|Client was closed|timeout exceeded when trying to connect|^QueryRunner(Provider)?AlreadyReleasedError/;

const text = (value: unknown): string => (typeof value === 'string' ? value : '');

/** The fault and those it was made of: TypeORM keeps the driver's, Node keeps one for each address it tried. */
function causes(fault: unknown, depth = 0): { code: string; name: string; message: string }[] {
  if (typeof fault !== 'object' || fault === null || depth > 4) return [];
  const { code, name, message, driverError, cause, errors } = fault as Record<string, unknown>;
  const own = { code: text(code), name: text(name), message: text(message) };
  const inner = [driverError, cause, ...(Array.isArray(errors) ? (errors as unknown[]) : [])];
  return [own, ...inner.flatMap((each) => causes(each, depth + 1))];
}
