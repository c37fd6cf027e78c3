import { recordsAbout, findRecord } from '#libs/store/queries/lots.js';
import { leastSealCoolingMs } from '#libs/syrup/jars/judge-jars.js';
import type { JarSpan } from '#libs/syrup/jars/jar-spans.js';
import { packAfterActions } from '../facts/pack-after-actions.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** What a seal check needs where jars were packed again since the pack's own count. */
export interface SealRecheck {
  /** Why they are checked again, as the page shows it. */
  readonly sentence: string;
  /** `all`, or `13-18 and 21`. */
  readonly jars: string;
  /** Why there is another count, which a corrective action must say to clear anything. */
  readonly cause: string;
}

/**
 * New lids need a new count beside the old one: a corrective action on the jars that were packed again. Undefined where
 * the pack has no count yet, or no jar was packed again since.
 */
export async function sealRecheck(reader: SugarhouseReader, code: string): Promise<SealRecheck | undefined> {
  const pack = await findRecord(reader, 'pack', code);
  if (!pack) return undefined;
  const actions = (await recordsAbout(reader, code, 'action')).map(({ body }) => body);
  const current = packAfterActions(pack.body, actions);
  const part = current.parts.find(({ jars, sealsNotChecked }) => jars !== undefined && sealsNotChecked);
  const tooEarly =
    current.sealsAt !== undefined &&
    Date.parse(current.sealsAt) - Date.parse(current.wholeFilledAt) < leastSealCoolingMs;
  if (tooEarly && current.sealsFailed !== undefined && !part) return countedTooEarly;
  if (pack.body.sealsFailed === undefined) return undefined;
  const jars = current.sealsFailed === undefined ? 'all' : part?.jars && typedSpans(part.jars);
  if (jars === undefined) return undefined;
  const which = jars === 'all' ? 'All jars were' : /^\d+$/.test(jars) ? `Jar ${jars} was` : `Jars ${jars} were`;
  return { sentence: `${which} packed again: check the seals.`, jars, cause: 'packed again' };
}

const countedTooEarly: SealRecheck = {
  sentence: 'They were counted while the jars were warm: look at all of them again, 12 to 24 h after filling.',
  jars: 'all',
  cause: 'counted too early',
};

const typedSpans = (spans: readonly JarSpan[]): string =>
  spans.map(({ from, to }) => (from === to ? `${from}` : `${from}-${to}`)).join(' and ');
