import { packedText } from './label-text.js';

/** A card for a tray, a vessel, a case, a shelf or a held lot: half a sheet of paper, readable from across the room. */
export interface Tag {
  /** The type of card, small above the code. */
  readonly kind: string;
  /** The lot or boil, as large as the card allows. */
  readonly code: string;
  readonly rows: readonly { readonly name: string; readonly value: string }[];
  /** Lines to fill in by pen, such as a reading: never pre-filled. */
  readonly blanks: readonly string[];
  readonly lines: readonly string[];
  /** Stamped across the top of the card. */
  readonly stamp?: string | undefined;
  readonly practice: boolean;
}

interface LotIdentity {
  readonly lot: string;
  readonly practice: boolean;
  /** Of a lot that may not go out: stamped on every card of it. */
  readonly stopped?: 'HELD' | 'RECALLED' | undefined;
}

/** The stamp of a held or recalled lot, and a row that says the same in words. */
const stoppedRow = ({ stopped }: LotIdentity): Tag['rows'] =>
  stopped === undefined
    ? []
    : [{ name: stopped === 'HELD' ? 'Held' : 'Recalled', value: 'do not send out, sell or use' }];

/** Printed when a pack starts, since unlabelled jars of two lots may cool on one table overnight. */
export function trayCard(
  pack: LotIdentity & { packedOn: string; container: string; by: string; tray?: { n: number; of: number } | undefined },
): Tag {
  return {
    kind: pack.tray ? `Tray ${pack.tray.n} of ${pack.tray.of}` : 'Tray',
    code: pack.lot,
    rows: [
      ...stoppedRow(pack),
      { name: 'Packed', value: packedText(pack.packedOn).replace('Packed ', '') },
      { name: 'Container', value: pack.container },
      { name: 'By', value: pack.by },
    ],
    blanks: ['Jars on this tray', 'Seals checked, initials'],
    lines: [
      'Keep this card with these jars until every one has its label.',
      'Label the jars after cooling and the seal check. Direct-thermal labels fade: keep them away from light and heat.',
    ],
    stamp: pack.stopped,
    practice: pack.practice,
  };
}

/** For a vessel that holds syrup between the boil and the pack. */
export function vesselTag(
  boil: LotIdentity & {
    vessel: string;
    volume: string;
    restingSince?: string | undefined;
    restedUntil?: string | undefined;
    from: readonly string[];
    by: string;
  },
): Tag {
  return {
    kind: `Vessel ${boil.vessel}`.trim(),
    code: boil.lot,
    rows: [
      ...stoppedRow(boil),
      { name: 'Syrup', value: boil.volume || 'not recorded' },
      ...(boil.restingSince
        ? [
            boil.restedUntil
              ? { name: 'Rested', value: `${boil.restingSince} to ${boil.restedUntil}` }
              : { name: 'Resting since', value: boil.restingSince },
          ]
        : []),
      ...(boil.from.length > 0 ? [{ name: 'From', value: boil.from.join(', ') }] : []),
      { name: 'By', value: boil.by },
    ],
    blanks: ['Temperature', 'Density and its temperature'],
    lines: ['Record everything that is poured in or out.'],
    stamp: boil.stopped,
    practice: boil.practice,
  };
}

/** For a case of jars: which of them are in it is written by hand, since no record says so. */
export function caseTag(
  box: LotIdentity & {
    count: number | undefined;
    container: string;
    packedOn: string;
    to?: string | undefined;
  },
): Tag {
  return {
    kind: 'Case',
    code: box.lot,
    rows: [
      ...stoppedRow(box),
      { name: 'Pack', value: box.count === undefined ? 'jars not counted' : `${box.count} jars` },
      { name: 'Container', value: box.container },
      { name: 'Packed', value: packedText(box.packedOn).replace('Packed ', '') },
      ...(box.to ? [{ name: 'To', value: box.to }] : []),
    ],
    blanks: ['Jars in this case', 'Their numbers'],
    lines: [],
    stamp: box.stopped,
    practice: box.practice,
  };
}

/** For a shelf. */
export function shelfTag(shelf: LotIdentity & { container: string; grade: string | null; packedOn: string }): Tag {
  return {
    kind: 'Shelf',
    code: shelf.lot,
    rows: [
      ...stoppedRow(shelf),
      { name: 'Container', value: shelf.container },
      ...(shelf.grade ? [{ name: 'Grade', value: shelf.grade }] : []),
      { name: 'Packed', value: packedText(shelf.packedOn).replace('Packed ', '') },
    ],
    blanks: ['Counted, on, initials'],
    lines: [],
    stamp: shelf.stopped,
    practice: shelf.practice,
  };
}

/** For a held lot, with the reason; it stays on until the lot is released. */
export function holdTag(held: LotIdentity & { why: string; by: string; on: string }): Tag {
  return {
    kind: 'Do not send out, sell or use',
    code: held.lot,
    rows: [
      { name: 'Why', value: held.why },
      { name: 'Held', value: `${held.on}, ${held.by}` },
    ],
    blanks: ['Found', 'Done', 'Released on, initials'],
    lines: ['Do not remove this tag until the lot is released in the book.'],
    stamp: 'HELD',
    practice: held.practice,
  };
}

/** For the jars of a recalled lot, as they are gathered; a recall is final. */
export function recallTag(recalled: LotIdentity & { why: string; by: string; on: string }): Tag {
  return {
    kind: 'Do not send out, sell or use',
    code: recalled.lot,
    rows: [
      { name: 'Why', value: recalled.why },
      { name: 'Recalled', value: `${recalled.on}, ${recalled.by}` },
    ],
    blanks: ['Jars set apart', 'Counted, initials', 'Done with them'],
    lines: ['A recall is final: keep these jars apart until they are destroyed.'],
    stamp: 'RECALLED',
    practice: recalled.practice,
  };
}
