import { recordsAbout } from '#libs/store/queries/lots.js';
import { clearsJars } from './pack-after-actions.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A corrective action that destroyed jars or poured them back: no dispatch, and yet they are off the shelf. */
export interface TakenOffBy {
  readonly id: string;
  readonly lot: string;
  readonly way: 'destroyed' | 'poured-back';
  /** Which, as typed: `13-18`. */
  readonly jars: string;
  readonly count: number;
  readonly at: string;
  readonly by: string;
  readonly done: string;
}

/** Those of a pack, oldest first; of one jar those that name it. */
export async function jarsTakenOff(reader: SugarhouseReader, pack: string, jar?: number): Promise<TakenOffBy[]> {
  const actions = await recordsAbout(reader, pack, 'action');
  return actions.flatMap(({ id, body }) => {
    const { way, jars, at, by, done } = body;
    if ((way !== 'destroyed' && way !== 'poured-back') || !jars || !clearsJars(body)) return [];
    const names = jars.all || jar === undefined || jars.spans.some(({ from, to }) => from <= jar && jar <= to);
    return names ? [{ id, lot: pack, way, jars: jars.typed, count: jars.count ?? 0, at, by, done }] : [];
  });
}

/** `destroyed`, `poured back`. */
export const formatMethod = (way: TakenOffBy['way']): string => way.replace('-', ' ');
