import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import { recordsAboutEach } from '#libs/store/connection/batch-queries.js';
import { recordsAbout } from '#libs/store/queries/lots.js';
import { clearsJars } from '../facts/pack-after-actions.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A corrective action that destroyed jars or poured them back: they are off the shelf without a dispatch. */
export interface JarRemoval {
  readonly id: string;
  readonly lot: string;
  readonly way: 'destroyed' | 'poured-back';
  /** The jars, as typed: `13-18`. */
  readonly jars: string;
  readonly count: number;
  readonly at: string;
  readonly by: string;
  readonly done: string;
}

/** The actions on a pack that took jars off sale, oldest first; for one jar, those that name it. */
export async function loadJarRemovals(reader: SugarhouseReader, pack: string, jar?: number): Promise<JarRemoval[]> {
  return jarRemovals(pack, await recordsAbout(reader, pack, 'action'), jar);
}

interface ActionRecord {
  readonly id: string;
  readonly body: ActionBody;
}

/** The same from the pack's corrective actions, already read. */
export function jarRemovals(pack: string, actions: readonly ActionRecord[], jar?: number): JarRemoval[] {
  return actions.flatMap(({ id, body }) => {
    const { way, jars, at, by, done } = body;
    if ((way !== 'destroyed' && way !== 'poured-back') || !jars || !clearsJars(body)) return [];
    const names = jars.all || jar === undefined || jars.spans.some(({ from, to }) => from <= jar && jar <= to);
    return names ? [{ id, lot: pack, way, jars: jars.typed, count: jars.count ?? 0, at, by, done }] : [];
  });
}

/** For each pack: the last action that took a jar off the shelf, by jar number. */
export async function loadRemovalLookup(
  reader: SugarhouseReader,
  packs: readonly string[],
): Promise<(pack: string, jar: number) => JarRemoval | undefined> {
  const byPack = new Map<string, readonly ActionRecord[]>();
  for (const [pack, records] of await recordsAboutEach(reader, packs, 'action')) byPack.set(pack, records);
  return (pack, jar) => jarRemovals(pack, byPack.get(pack) ?? [], jar).at(-1);
}

/** `destroyed`, `poured back`. */
export const formatMethod = (way: JarRemoval['way']): string => way.replace('-', ' ');
