/**
 * One line for the log, with the request it belongs to: `2026-03-19T18:05:02Z 3f2a91bc POST /boils 303 12 ms`. Assets
 * are left out, since they would crowd out the rest.
 */
export function logLine(
  printLine: (line: string) => void,
  now: Date,
  line: string,
  more: Readonly<Record<string, unknown>> = {},
): void {
  const { request = '-', method, path, status, ms, fault } = more;
  const stamp = `${now.toISOString().slice(0, 19)}Z ${String(request)}`;
  if (line === 'request') {
    if (Number(status) < 400 && /^\/(assets|healthz)/.test(String(path))) return;
    return printLine(`${stamp} ${String(method)} ${String(path)} ${String(status)} ${String(ms)} ms`);
  }
  for (const each of `${line}${typeof fault === 'string' ? `: ${fault}` : ''}`.split('\n'))
    printLine(`${stamp} ${each.replace(/\p{Cc}/gu, ' ')}`);
}
