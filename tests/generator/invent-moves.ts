import type { Random } from './random.js';
import { clock, dayOfYear, marchDay, type Pack } from './invented.js';

type Row = Record<string, string>;

/** Where the jars went: sold, given away, broken, returned; and shelf counts with some missing. */
export function inventMoves(random: Random, packs: readonly Pack[]): { dispatches: Row[]; counts: Row[] } {
  const dispatches: Row[] = [];
  const counts: Row[] = [];
  for (const pack of packs) {
    // Jars poured back can't be sold.
    if (pack.pouredBack > 0) continue;
    const held = pack.stops.size > 0 || unansweredAbove(pack);
    if (held && random.oneIn(2)) continue;
    if (held && random.oneIn(3)) {
      send(dispatches, pack, 'destroyed', pack.jars, 3, random);
      continue;
    }
    moveSome(random, pack, dispatches);
    if (random.oneIn(2)) countShelf(random, pack, counts);
    const left = onShelf(pack, '9999');
    if (!held && pack.row['seals_failed'] !== '' && left > 2 && random.oneIn(3))
      dispatches.push({
        id: '',
        lot: pack.code,
        jars: '1',
        sent_at: '2026-07-04T09:00',
        to: `Millrace Green, order ${pack.code}`,
        kind: 'sale',
        by: 'JP',
      });
  }
  return { dispatches, counts };
}

function moveSome(random: Random, pack: Pack, dispatches: Row[]): void {
  let left = pack.jars;
  let sold = 0;
  // A jar whose seal failed isn't sent out.
  const sealed = pack.jars - Number(pack.row['seals_failed'] ?? 0);
  let sent = 0;
  for (let n = 0; n < random.whole(0, 4) && left > 0; n++) {
    const kind = random.of(['', 'sale', 'sale', 'gift', 'sample', 'kept', 'retained', 'broken', 'returned', 'Sale']);
    if (kind === 'returned' && sold === 0) continue;
    const drawn = random.whole(1, kind === 'returned' ? Math.min(2, sold) : Math.max(1, Math.floor(left / 2)));
    const jars = goesOut(kind) && !mayNotGo(pack) ? Math.min(drawn, sealed - sent) : drawn;
    if (jars === 0) continue;
    if (goesOut(kind)) sent += jars;
    send(dispatches, pack, kind, jars, 4 + n * 7, random);
    // Returned jars are set apart: they are not on the shelf again.
    if (kind !== 'returned') left -= jars;
    sold += kind === 'returned' ? -jars : /^(sale|gift|)$/i.test(kind) ? jars : 0;
  }
}

function send(dispatches: Row[], pack: Pack, kind: string, jars: number, daysLater: number, random: Random): void {
  const at = `${marchDay(dayOfYear(pack.packedAt) - 60 + daysLater)}T${clock(9 * 60 + (dispatches.length % 480))}`;
  pack.moves.push({ at, kind: kind.toLowerCase() || 'sale', jars });
  dispatches.push({
    id: random.oneIn(2) ? `S${dispatches.length + 1}` : '',
    lot: pack.ownId && random.oneIn(2) ? pack.ownId : pack.code,
    jars: String(jars),
    sent_at: at,
    to: random.of(['Millrace Green', 'neighbours, Bracken Lane', 'the "Friday" stall']),
    kind,
    contact: random.of(['', 'stall 4; ask for June']),
    // Jars that may not be sent out are recorded only as already gone.
    already_left: goesOut(kind) && mayNotGo(pack) ? 'yes' : '',
    by: random.of(['JP', 'WE', '']),
  });
}

const goesOut = (kind: string): boolean => /^(sale|gift|sample|kept|)$/i.test(kind);
const mayNotGo = (pack: Pack): boolean =>
  pack.stops.size > 0 || unansweredAbove(pack) || pack.row['seals_failed'] === '';

function countShelf(random: Random, pack: Pack, counts: Row[]): void {
  const at = `${marchDay(dayOfYear(pack.packedAt) - 60 + random.whole(5, 30))}T20:${String(10 + (counts.length % 50))}`;
  const there = onShelf(pack, at);
  pack.missing = Math.max(0, Math.min(there, random.whole(0, 3), onShelf(pack, '9999')));
  pack.count = { at, jars: there - pack.missing };
  counts.push({
    id: `C${counts.length + 1}`,
    lot: pack.code,
    jars: String(there - pack.missing),
    counted_at: at,
    by: 'WE',
  });
}

const onShelf = (pack: Pack, at: string): number =>
  pack.moves.reduce(
    (left, move) => (move.at > at ? left : move.kind === 'returned' ? left : left - move.jars),
    pack.jars,
  ) - pack.missing;

export const unansweredAbove = (pack: Pack): boolean => boilsAbove(pack).some((boil) => boil.unanswered);

/** Every boil whose syrup is in it: through pan contents, blends, and packs poured back. */
export function boilsAbove(pack: Pack) {
  const found = new Set<NonNullable<Pack['sources'][number]['boil']>>();
  const open = pack.sources.flatMap((source) => source.boil ?? (source.pack ? boilsAbove(source.pack) : []));
  for (let boil = open.pop(); boil; boil = open.pop()) {
    found.add(boil);
    if (boil.carriedFrom && !found.has(boil.carriedFrom)) open.push(boil.carriedFrom);
  }
  return [...found];
}
