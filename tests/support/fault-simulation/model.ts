/** One operation. Each id and amount is drawn beforehand, so that it can be sent again unchanged. */
export type Operation =
  | { readonly what: 'gather'; readonly id: string; readonly gallons: number }
  | { readonly what: 'boil'; readonly id: string }
  | {
      readonly what: 'pack';
      readonly id: string;
      readonly boil: string;
      readonly jars: number;
      readonly fill: string;
      readonly isThin: boolean;
    }
  | { readonly what: 'add fill' | 'correct fill'; readonly pack: string; readonly fill: string }
  | { readonly what: 'hold' | 'release' | 'recall'; readonly lot: string }
  | { readonly what: 'act'; readonly pack: string; readonly jars: number }
  | {
      readonly what: 'send';
      readonly id: string;
      readonly pack: string;
      readonly jars: number;
      readonly hasLeft: boolean;
    }
  | { readonly what: 'count'; readonly id: string; readonly pack: string; readonly jars: number }
  | { readonly what: 'void'; readonly dispatch: string };

export type Role = 'owner' | 'maker' | 'helper' | 'guest';
export type Outcome = 'taken' | 'forbidden' | 'unknown' | 'refused';
type State = 'open' | 'held' | 'released' | 'recalled';

interface Marked {
  state: State;
  /** The holds, actions and releases of it, in order: which came last decides how a hold ends. */
  statusChanges: ('hold' | 'act' | 'release')[];
}
export interface ModelPack extends Marked {
  readonly boil: string;
  readonly id: string;
  readonly jars: number;
  readonly isThin: boolean;
  /** The coldest reading in the jar, °F; undefined where none was taken. */
  coldest: number | undefined;
  /** The hold rules broken at its last judgement. */
  stops: string[];
  /** A correction removed a hold: only a release opens it. */
  waits: boolean;
  hasActed: boolean;
  /** Its newest reading was taken after its seals were counted: jars filled since then have unchecked lids. */
  isFilledSinceSeals: boolean;
  gone: number;
  counted: number | undefined;
}

/**
 * What a book must hold after the acknowledged operations, and the state of each lot: written from the documents,
 * sharing no code with the program. It knows a few kinds of deviation and every event of a lot.
 */
export interface Model {
  readonly gatherings: Map<string, number>;
  readonly boils: Map<string, Marked & { readonly id: string }>;
  readonly packs: Map<string, ModelPack>;
  readonly dispatches: Map<string, { readonly pack: string; readonly jars: number; isVoid: boolean }>;
  /** Log entries that the operations made. */
  entries: number;
}

export const emptyModel = (): Model => ({
  gatherings: new Map(),
  boils: new Map(),
  packs: new Map(),
  dispatches: new Map(),
  entries: 0,
});

/** Whether a role may do it. Helpers record their own work; states of lots, dispatches and files are for makers. */
function mayDo(role: Role, of: Operation, byFile: boolean): boolean {
  if (role === 'owner' || role === 'maker') return true;
  if (role === 'guest') return false;
  if (byFile) return false;
  return of.what === 'gather' || of.what === 'count' || of.what === 'add fill' || (of.what === 'send' && of.hasLeft);
}

/** How an operation is sent, as far as the answer depends on it. */
export interface SentThrough {
  readonly byFile: boolean;
  /** By a page's quick form, which records the time with each reading. */
  readonly byQuickForm: boolean;
}

/** The expected answer, with the model changed as the book must be. */
export function expect(model: Model, role: Role, of: Operation, sentThrough: SentThrough): Outcome {
  if (!mayDo(role, of, sentThrough.byFile)) return 'forbidden';
  const outcome = apply(model, of, sentThrough);
  if (outcome === 'taken') model.entries++;
  return outcome === 'same' ? 'taken' : outcome;
}

function apply(model: Model, of: Operation, { byQuickForm }: SentThrough): Outcome | 'same' {
  switch (of.what) {
    case 'gather':
      model.gatherings.set(of.id, of.gallons);
      return 'taken';
    case 'boil':
      model.boils.set(nextBoil(model), { id: of.id, state: 'open', statusChanges: [] });
      return 'taken';
    case 'pack': {
      const code = `${of.boil}-${1 + [...model.packs.values()].filter(({ boil }) => boil === of.boil).length}`;
      const { id, boil, jars, isThin } = of;
      const none = { state: 'open', waits: false, hasActed: false, isFilledSinceSeals: false, gone: 0 } as const;
      const coldest = of.fill === '' ? undefined : parseFloat(of.fill);
      model.packs.set(code, {
        ...none,
        statusChanges: [],
        stops: [],
        id,
        boil,
        jars,
        isThin,
        coldest,
        counted: undefined,
      });
      applyOperation(model, code, 'record');
      return 'taken';
    }
    case 'add fill':
    case 'correct fill': {
      const pack = model.packs.get(of.pack)!;
      const read = parseFloat(of.fill);
      // A correction replaces the readings, without times.
      pack.isFilledSinceSeals = of.what === 'add fill' && (byQuickForm || pack.isFilledSinceSeals);
      pack.coldest = of.what === 'correct fill' ? read : Math.min(read, pack.coldest ?? read);
      applyOperation(model, of.pack, of.what === 'correct fill' ? 'correct' : 'add');
      return 'taken';
    }
    case 'act': {
      const pack = model.packs.get(of.pack)!;
      pack.statusChanges.push('act');
      pack.hasActed = true;
      applyOperation(model, of.pack, 'act');
      return 'taken';
    }
    case 'send': {
      const pack = model.packs.get(of.pack)!;
      // Jars packed again have lids that nobody has checked since.
      const wantsSeals = pack.hasActed || pack.isFilledSinceSeals;
      const mayNotLeave = pack.state === 'held' || pack.state === 'recalled' || wantsSeals;
      if (!of.hasLeft && mayNotLeave) return 'refused';
      model.dispatches.set(of.id, { pack: of.pack, jars: of.jars, isVoid: false });
      pack.gone += of.jars;
      applyOperation(model, of.pack, 'record');
      return 'taken';
    }
    case 'count':
      model.packs.get(of.pack)!.counted = of.jars;
      return 'taken';
    case 'void': {
      const sent = model.dispatches.get(of.dispatch)!;
      if (sent.isVoid) return 'refused';
      sent.isVoid = true;
      model.packs.get(sent.pack)!.gone -= sent.jars;
      applyOperation(model, sent.pack, 'void');
      return 'taken';
    }
    case 'hold':
      return hold(model, of.lot);
    case 'release':
      return release(model, of.lot);
    case 'recall':
      return recall(model, of.lot);
  }
}

/** Letters in order without I and O; every boil of a simulation begins on the same day. */
export const boilCode = (n: number): string => `26077${'ABCDEFGHJKLMNPQRSTUVW'[n] ?? ''}`;
const nextBoil = (model: Model): string => boilCode(model.boils.size);

const lotOf = (model: Model, code: string): Marked | undefined => model.packs.get(code) ?? model.boils.get(code);
const packsOf = (model: Model, code: string): string[] =>
  [...model.packs].filter(([pack, { boil }]) => pack === code || boil === code).map(([pack]) => pack);

function hold(model: Model, code: string): Outcome {
  const lot = lotOf(model, code);
  if (!lot) return 'unknown';
  if (lot.state === 'recalled') return 'refused';
  lot.state = 'held';
  lot.statusChanges.push('hold');
  for (const pack of packsOf(model, code)) if (pack !== code) applyOperation(model, pack, 'hold');
  return 'taken';
}

function release(model: Model, code: string): Outcome {
  const lot = lotOf(model, code);
  if (!lot) return 'unknown';
  if (lot.state !== 'held') return 'refused';
  const pack = model.packs.get(code);
  if (pack && stopsOf(model, pack).length > 0) return 'refused';
  lot.state = 'released';
  lot.statusChanges.push('release');
  if (pack) Object.assign(pack, { waits: false, stops: [] });
  for (const below of packsOf(model, code)) if (below !== code) applyOperation(model, below, 'release');
  return 'taken';
}

function recall(model: Model, code: string): Outcome | 'same' {
  const lot = lotOf(model, code);
  if (!lot) return 'unknown';
  const all = [lot, ...packsOf(model, code).map((pack) => model.packs.get(pack)!)];
  if (all.every(({ state }) => state === 'recalled')) return 'same';
  for (const each of all) each.state = 'recalled';
  return 'taken';
}

/** The hold rules that a pack breaks: by its own readings and density, and by the boil it came from. */
function stopsOf(model: Model, pack: ModelPack): string[] {
  const boil = model.boils.get(pack.boil)!;
  const isHeldByHand = boil.state === 'held' && boil.statusChanges.at(-1) === 'hold';
  return [
    ...(pack.coldest === undefined && !pack.hasActed ? ['fill-not-read'] : []),
    ...(pack.coldest !== undefined && pack.coldest < 180 && !pack.hasActed ? ['fill-temperature'] : []),
    ...(pack.isThin ? ['density-too-thin'] : []),
    ...(boil.state === 'recalled' || isHeldByHand ? ['held-upstream'] : []),
  ];
}

type EntryType = 'record' | 'add' | 'correct' | 'act' | 'hold' | 'release' | 'void';

/** The state of a pack after an operation on it or on its boil. */
function applyOperation(model: Model, code: string, entryType: EntryType): void {
  const pack = model.packs.get(code)!;
  const before = pack.stops;
  const stops = stopsOf(model, pack);
  pack.stops = stops;
  if (pack.state === 'recalled') return;
  const isCorrection = entryType === 'correct' || entryType === 'void';
  if (stops.length > 0) {
    const takenAway = before.some((rule) => !rule.endsWith('-not-read') && !stops.includes(rule));
    if (isCorrection && takenAway) pack.waits = true;
    pack.state = 'held';
    return;
  }
  if (pack.state !== 'held') return;
  if (isCorrection && before.length > 0) pack.waits = true;
  const last = pack.statusChanges.at(-1);
  const byPerson = last === 'hold' || last === 'act';
  if (entryType === 'release' && !pack.waits && !byPerson) pack.state = 'released';
  else if (!pack.waits && !byPerson) pack.state = 'open';
}
