export interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Occupied boxes indexed by position, so that a season's thousands of points are looked up, not iterated. */
export function occupied() {
  const cells = new Map<string, Box[]>();
  const cellsOf = (box: Box): string[] => {
    const keys: string[] = [];
    for (let x = Math.floor(box.left / cell); x <= Math.floor(box.right / cell); x++)
      for (let y = Math.floor(box.top / cell); y <= Math.floor(box.bottom / cell); y++) keys.push(`${x} ${y}`);
    return keys;
  };
  return {
    add(box: Box): void {
      for (const key of cellsOf(box)) {
        const boxes = cells.get(key);
        if (boxes) boxes.push(box);
        else cells.set(key, [box]);
      }
    },
    /** Whether the box overlaps any box other than `own`. */
    overlapsAny: (box: Box, own?: Box): boolean =>
      cellsOf(box).some((key) => (cells.get(key) ?? []).some((other) => other !== own && overlap(box, other))),
  };
}

const cell = 24;

/** Whether two boxes share any area. */
export const overlap = (one: Box, other: Box): boolean =>
  one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom;
