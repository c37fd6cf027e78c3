import { setTimeout as pause } from 'node:timers/promises';

/** How long a reader or a writer retries while PostgreSQL can't be reached: a restart takes seconds. */
export const writeTimeoutMs = 30_000;

/**
 * Runs `work` again after a growing pause while its error is transient. The work must be safe to run twice: each caller
 * says why.
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
      // A random part, so that conflicting writers don't retry at the same moment.
      const waitMs = Math.min(1000, 20 * 2 ** attempt) * (0.5 + Math.random());
      if (!mayAgain(fault) || Date.now() + waitMs > giveUpAtMs) throw fault;
      await pause(waitMs);
    }
}

/** Whether an error is transient: no connection, or two transactions in conflict. */
export const isPassing = (fault: unknown): boolean => isLost(fault) || isConflict(fault);

/** Whether the engine rolled the transaction back in favour of another. */
export const isConflict = (fault: unknown): boolean => causes(fault).some(({ code }) => conflicts.has(code));

/** Whether the connection broke, or none was available. The engine rolls back an uncommitted transaction. */
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

/** The error and its causes: TypeORM wraps the driver's, Node keeps one for each address it tried. */
function causes(fault: unknown, depth = 0): { code: string; name: string; message: string }[] {
  if (typeof fault !== 'object' || fault === null || depth > 4) return [];
  const { code, name, message, driverError, cause, errors } = fault as Record<string, unknown>;
  const own = { code: text(code), name: text(name), message: text(message) };
  const inner = [driverError, cause, ...(Array.isArray(errors) ? (errors as unknown[]) : [])];
  return [own, ...inner.flatMap((each) => causes(each, depth + 1))];
}
