import QRCode, { type QRCodeSegment } from 'qrcode';

/** How much of a symbol may be damaged: 25 %, 15 %, 7 %. */
export type SymbolLevel = 'Q' | 'M' | 'L';

export interface VersionAndLevel {
  readonly version: number;
  readonly level: SymbolLevel;
}

type Content = string | QRCodeSegment[];

/**
 * Dark modules of a symbol row by row, under the mask with the best score by ISO/IEC 18004 (7.8.3). The library scores
 * module by module; here each row is one number and the scores are counted from its bits, several times as fast. A
 * symbol wider than 32 modules is left to the library. The tests compare both masks for thousands of symbols.
 */
export function maskedModules(content: Content, marking: VersionAndLevel): Uint8Array {
  if (17 + 4 * marking.version > 32) return create(content, marking, undefined).data;
  const frame = templateFor(content, marking);
  const plain = create(content, marking, 0).data;
  const rows = rowsOf(plain, frame.size);
  const columns = columnsOf(plain, frame.size);
  let best = frame.masks[0]!;
  let lowest = Infinity;
  for (const mask of frame.masks) {
    const score = scoreMasked(rows, columns, frame, mask, lowest);
    if (score >= lowest) continue;
    lowest = score;
    best = mask;
  }
  return toModules(rows, frame, best);
}

/**
 * What is the same in every symbol of a version and level: which modules the message has, and the rest of each mask.
 */
interface SymbolTemplate {
  readonly size: number;
  readonly messageRows: Int32Array;
  readonly messageColumns: Int32Array;
  readonly masks: readonly Mask[];
}

interface Mask {
  /** Turns a message under mask 0 into this mask. */
  readonly turnRows: Int32Array;
  readonly turnColumns: Int32Array;
  /** Finder, timing, alignment and this mask's format modules. */
  readonly fixedRows: Int32Array;
  readonly fixedColumns: Int32Array;
}

/** Taken once from the library with arbitrary content, since masks are applied independently of the message. */
function templateFor(content: Content, marking: VersionAndLevel): SymbolTemplate {
  const key = `${marking.version}${marking.level}`;
  const known = frames.get(key);
  if (known) return known;
  const symbols = [0, 1, 2, 3, 4, 5, 6, 7].map((mask) => create(content, marking, mask));
  const { size, reservedBit } = symbols[0]!;
  const message = Uint8Array.from(reservedBit, (reserved) => (reserved ? 0 : 1));
  const masks = symbols.map(({ data }) => {
    const turn = data.map((dark, at) => (dark ^ symbols[0]!.data[at]!) & message[at]!);
    const fixed = data.map((dark, at) => (message[at] ? 0 : dark));
    return {
      turnRows: rowsOf(turn, size),
      turnColumns: columnsOf(turn, size),
      fixedRows: rowsOf(fixed, size),
      fixedColumns: columnsOf(fixed, size),
    };
  });
  const frame = { size, messageRows: rowsOf(message, size), messageColumns: columnsOf(message, size), masks };
  frames.set(key, frame);
  return frame;
}

const frames = new Map<string, SymbolTemplate>();

/** The penalty, or any number above `enough` as soon as this mask can't be the best. */
function scoreMasked(
  rows: Int32Array,
  columns: Int32Array,
  frame: SymbolTemplate,
  mask: Mask,
  bestSoFar: number,
): number {
  const { size, messageRows, messageColumns } = frame;
  const all = size === 32 ? -1 : (1 << size) - 1;
  let score = 0;
  let dark = 0;
  let above = 0;
  for (let at = 0; at < size; at++) {
    const row = ((rows[at]! ^ mask.turnRows[at]!) & messageRows[at]!) | mask.fixedRows[at]!;
    const column = ((columns[at]! ^ mask.turnColumns[at]!) & messageColumns[at]!) | mask.fixedColumns[at]!;
    score += lineScore(row, ~row & all) + lineScore(column, ~column & all);
    dark += bits(row);
    if (at > 0) score += blockScore(row & above) + blockScore(~row & ~above & all);
    above = row;
    if (score > bestSoFar) return score;
  }
  return score + 10 * Math.abs(Math.ceil((dark * 20) / (size * size)) - 10);
}

/** Runs of five or more of one colour (3, and 1 for each further), and finder-like 1:1:3:1:1 beside four light (40). */
function lineScore(dark: number, light: number): number {
  const darkPairs = dark & (dark >>> 1);
  const lightPairs = light & (light >>> 1);
  const lightFours = lightPairs & (lightPairs >>> 2);
  const darkFives = darkPairs & (darkPairs >>> 2) & (dark >>> 4);
  const lightFives = lightFours & (light >>> 4);
  let score = 0;
  if (darkFives) score += bits(darkFives) + 2 * bits(darkFives & ~(darkFives << 1));
  if (lightFives) score += bits(lightFives) + 2 * bits(lightFives & ~(lightFives << 1));
  const core = dark & (light >>> 1) & (darkPairs >>> 2) & (dark >>> 4) & (light >>> 5) & (dark >>> 6);
  if (core) score += 40 * (bits(core & (lightFours >>> 7)) + bits(core & (lightFours << 4)));
  return score;
}

/** Two by two of one colour: 3 each. */
function blockScore(both: number): number {
  const blocks = both & (both >>> 1);
  return blocks ? 3 * bits(blocks) : 0;
}

function bits(word: number): number {
  const pairs = word - ((word >>> 1) & 0x55555555);
  const fours = (pairs & 0x33333333) + ((pairs >>> 2) & 0x33333333);
  return (((fours + (fours >>> 4)) & 0x0f0f0f0f) * 0x01010101) >>> 24;
}

function rowsOf(modules: Uint8Array, size: number): Int32Array {
  const rows = new Int32Array(size);
  for (let row = 0, at = 0; row < size; row++) {
    let word = 0;
    for (let column = 0; column < size; column++) word |= modules[at++]! << column;
    rows[row] = word;
  }
  return rows;
}

function columnsOf(modules: Uint8Array, size: number): Int32Array {
  const columns = new Int32Array(size);
  for (let row = 0, at = 0; row < size; row++)
    for (let column = 0; column < size; column++) columns[column]! |= modules[at++]! << row;
  return columns;
}

function toModules(rows: Int32Array, { size, messageRows }: SymbolTemplate, mask: Mask): Uint8Array {
  const modules = new Uint8Array(size * size);
  for (let row = 0, at = 0; row < size; row++) {
    const word = ((rows[row]! ^ mask.turnRows[row]!) & messageRows[row]!) | mask.fixedRows[row]!;
    for (let column = 0; column < size; column++) modules[at++] = (word >>> column) & 1;
  }
  return modules;
}

function create(
  content: Content,
  { version, level }: VersionAndLevel,
  maskPattern: number | undefined,
): QRCode.BitMatrix {
  const options = { version, errorCorrectionLevel: level };
  return QRCode.create(content, maskPattern === undefined ? options : { ...options, maskPattern: maskPattern as 0 })
    .modules;
}
