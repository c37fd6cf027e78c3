import type { Column } from '../layout/fit-text.js';
import { doubleFrame, frameInsetMm, insideFrameMm, type Shape, widthInside } from '../layout/frames.js';
import type { NetBand, NetSetting } from '../layout/net-band.js';
import type { Stock } from '../stocks/stocks.js';
import { quietModules, type SymbolChoice } from '../symbol/symbol.js';

/** The layouts with a frame, each for one kind of container. */
export const framedDesigns = ['tall', 'squat', 'jug', 'tin', 'lid'] as const;
export type FramedDesign = (typeof framedDesigns)[number];

export interface Box {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A column and its contents, in the order of its lines, and how the lines are placed when there is spare room. */
export interface Zone {
  readonly holds: 'head' | 'foot' | 'all' | 'name' | 'product' | 'care';
  readonly column: Column & { readonly xMm: number; readonly yMm: number };
  readonly verticalAlign: 'top' | 'middle' | 'bottom';
  /** In paper white on a band of ink. */
  readonly paper?: boolean;
}

/** One way to divide a framed label. */
export interface Composition {
  readonly symbol: { readonly xMm: number; readonly yMm: number };
  readonly code: { readonly middleMm: number; readonly topMm: number; readonly widthMm: number };
  readonly zones: readonly Zone[];
  readonly logo?: Box | undefined;
  readonly frame: readonly Shape[];
  readonly bandMm?: number | undefined;
  /** The axis of the text and of the net quantity; by default the middle of the label. */
  readonly netMiddleMm?: number | undefined;
  readonly rule?: { readonly xMm: number; readonly yMm: number; readonly widthMm: number } | undefined;
}

interface Room {
  readonly stock: Stock;
  readonly choice: SymbolChoice;
  readonly net: NetBand;
  /** Whether it has a place for the maker's own drawing. */
  readonly logo: boolean;
}

/** Where a framed design puts the net quantity on this stock, in mm. */
export function netSettingFor(design: FramedDesign, stock: Stock): NetSetting {
  const marginMm = design === 'tin' ? tinMarginMm(stock) : insideFrameMm(stock);
  const centred = { align: 'centre', marginMm, inFrame: true } as const;
  if (stock.shape === 'oval') return { ...centred, widthBetween: widthInside(stock, marginMm) };
  return design === 'tall' || design === 'squat' ? centred : { ...centred, align: 'left' };
}

/** The ways to divide a label, best first; where there is a drawing, those with a place for it come first. */
export function compositions(design: FramedDesign, room: Room): Composition[] {
  const compositionsFor = (logo: boolean): Composition[] => {
    const each = { ...room, logo };
    if (room.stock.shape === 'oval') return lid(each);
    if (design === 'tall') return tall(each);
    if (design === 'squat' || design === 'lid') return squat(each);
    return twoColumns(each, design === 'tin');
  };
  return room.logo ? [...compositionsFor(true), ...compositionsFor(false)] : compositionsFor(false);
}

/** A small gap beside the quiet zone, so that rounding by a printer doesn't cut into it. */
const hairMm = 0.2;
const codeHeightMm = 2.6;

const sizes = ({ choice }: Room) => {
  const darkMm = choice.modules * choice.moduleMm;
  const quietMm = quietModules * choice.moduleMm + hairMm;
  return { darkMm, quietMm, sideMm: darkMm + 2 * quietMm };
};

const createZone = (
  content: Zone['holds'],
  box: Box,
  more: Partial<Pick<Column, 'align' | 'maxScale' | 'widthBetween'>> &
    Partial<Pick<Zone, 'verticalAlign' | 'paper'>> = {},
): Zone => ({
  holds: content,
  column: {
    ...box,
    align: more.align ?? 'centre',
    maxScale: more.maxScale ?? 2.4,
    widthBetween: more.widthBetween,
  },
  verticalAlign: more.verticalAlign ?? 'middle',
  ...(more.paper ? { paper: true } : {}),
});

/** Upright: drawing, name and product at the top, the symbol under them, the rest at the bottom, all on one axis. */
function tall(room: Room): Composition[] {
  const { stock, net } = room;
  const { darkMm, quietMm, sideMm } = sizes(room);
  const insetMm = insideFrameMm(stock);
  const widthMm = stock.labelWidthMm - 2 * insetMm;
  const highMm = net.clearTopMm - insetMm;
  if (sideMm > widthMm + 2) return [];
  return [0.22, 0.28, 0.34, 0.4].flatMap((share) => {
    const footMm = highMm * share;
    const headMm = highMm - footMm - sideMm - codeHeightMm;
    const logoMm = room.logo ? Math.min(headMm * 0.42, widthMm * 0.7) : 0;
    if (headMm - logoMm < 12) return [];
    const symbolTop = insetMm + headMm + quietMm;
    const footTop = symbolTop + darkMm + quietMm + codeHeightMm;
    const headTop = insetMm + (room.logo ? logoMm + 1.5 : 0);
    return [
      {
        symbol: { xMm: (stock.labelWidthMm - darkMm) / 2, yMm: symbolTop },
        code: { middleMm: stock.labelWidthMm / 2, topMm: symbolTop + darkMm + quietMm, widthMm },
        zones: [
          createZone('head', { xMm: insetMm, yMm: headTop, widthMm, heightMm: insetMm + headMm - headTop - 0.6 }),
          createZone('foot', { xMm: insetMm, yMm: footTop + 1, widthMm, heightMm: footMm - 1 }, { maxScale: 1.3 }),
        ],
        logo: room.logo
          ? { xMm: insetMm + widthMm * 0.15, yMm: insetMm + 0.5, widthMm: widthMm * 0.7, heightMm: logoMm }
          : undefined,
        frame: doubleFrame(stock),
      },
    ];
  });
}

/** Wide and low: the drawing on the left, all text on the axis between it and the symbol. */
function squat(room: Room): Composition[] {
  const { stock, net } = room;
  const { darkMm, quietMm, sideMm } = sizes(room);
  const insetMm = insideFrameMm(stock);
  const fineMm = frameInsetMm(stock) + 1;
  const highMm = net.clearTopMm - insetMm;
  const symbolX = stock.labelWidthMm - fineMm - quietMm - darkMm;
  const symbolY = Math.max(fineMm + quietMm, insetMm + (highMm - darkMm - quietMm - codeHeightMm) / 2);
  if (symbolY + darkMm + quietMm + codeHeightMm > net.clearTopMm) return [];
  const logoMm = room.logo ? Math.min(stock.labelWidthMm * 0.24, highMm) : 0;
  const from = insetMm + (room.logo ? logoMm + 2 : 0);
  const widthMm = symbolX - quietMm - from;
  if (widthMm < 20) return [];
  return [
    {
      symbol: { xMm: symbolX, yMm: symbolY },
      code: { middleMm: symbolX + darkMm / 2, topMm: symbolY + darkMm + quietMm, widthMm: sideMm },
      zones: [createZone('all', { xMm: from, yMm: insetMm, widthMm, heightMm: highMm })],
      logo: room.logo ? { xMm: insetMm, yMm: insetMm, widthMm: logoMm, heightMm: highMm } : undefined,
      frame: doubleFrame(stock),
      netMiddleMm: from + widthMm / 2,
    },
  ];
}

const tinMarginMm = (stock: Stock): number => Math.max(2.5, Math.min(6, stock.labelWidthMm * 0.04));

/**
 * The head across the label, with a band of ink for the name on a tin; under it the small text on the left, the symbol
 * on the right.
 */
function twoColumns(room: Room, band: boolean): Composition[] {
  const { stock, net } = room;
  const { darkMm, quietMm, sideMm } = sizes(room);
  const insetMm = band ? tinMarginMm(stock) : insideFrameMm(stock);
  const fineMm = band ? 0.5 : frameInsetMm(stock) + 1;
  const bandMm = band ? Math.max(8, stock.labelHeightMm * 0.2) : 0;
  const topMm = band ? bandMm + 2.2 : insetMm;
  const widthMm = stock.labelWidthMm - 2 * insetMm;
  const symbolX = stock.labelWidthMm - Math.max(fineMm + quietMm, insetMm) - darkMm;
  const besideNet = symbolX - quietMm >= net.clearRightMm;
  const lowestMm = besideNet ? stock.labelHeightMm - fineMm : net.clearTopMm;
  const symbolY = lowestMm - codeHeightMm - quietMm - darkMm - (besideNet ? 0.8 : 0);
  const leftMm = symbolX - quietMm - insetMm;
  if (leftMm < 20) return [];
  return [0.56, 0.5, 0.44, 0.38].flatMap((share) => {
    const headBottom = Math.min(topMm + (net.clearTopMm - topMm) * share, symbolY - quietMm);
    const headMm = headBottom - topMm;
    if (headMm < 8) return [];
    const logoMm = room.logo ? Math.min(headMm * 1.3, widthMm * 0.3, headMm) : 0;
    const from = insetMm + (room.logo ? logoMm + 2.5 : 0);
    const footTop = headBottom + 1.6;
    return [
      {
        symbol: { xMm: symbolX, yMm: symbolY },
        code: { middleMm: symbolX + darkMm / 2, topMm: symbolY + darkMm + quietMm, widthMm: sideMm },
        zones: [
          ...(band
            ? [
                createZone(
                  'name',
                  { xMm: insetMm, yMm: bandMm * 0.2, widthMm, heightMm: bandMm * 0.6 },
                  { paper: true, maxScale: 2 },
                ),
              ]
            : []),
          createZone(
            band ? 'product' : 'head',
            { xMm: from, yMm: topMm, widthMm: stock.labelWidthMm - insetMm - from, heightMm: headMm },
            { maxScale: 4, align: room.logo ? 'left' : 'centre' },
          ),
          createZone(
            'foot',
            { xMm: insetMm, yMm: footTop, widthMm: leftMm, heightMm: net.clearTopMm - footTop },
            { align: 'left', verticalAlign: 'middle', maxScale: 1.4 },
          ),
        ],
        logo: room.logo ? { xMm: insetMm, yMm: topMm + 0.5, widthMm: logoMm, heightMm: headMm - 0.5 } : undefined,
        frame: band ? [] : doubleFrame(stock),
        bandMm: band ? bandMm : undefined,
        rule: { xMm: insetMm, yMm: headBottom + 0.6, widthMm: symbolX - quietMm - insetMm },
      },
    ];
  });
}

/** In a ring: name and product along its upper part, then the small text with the symbol on its right. */
function lid(room: Room): Composition[] {
  const { stock, net } = room;
  const { darkMm, quietMm, sideMm } = sizes(room);
  const insetMm = insideFrameMm(stock);
  const widthBetween = widthInside(stock, insetMm);
  const edgeBetween = widthInside(stock, frameInsetMm(stock) + 1.1);
  const innerMm = stock.labelWidthMm - 2 * insetMm;
  const middleMm = stock.labelWidthMm / 2;
  return [0.46, 0.52, 0.4, 0.58, 0.34].flatMap((share) => {
    const headBottom = insetMm + (net.clearTopMm - insetMm) * share;
    const blockMm = sideMm + codeHeightMm;
    const roomMm = net.clearTopMm - headBottom;
    if (blockMm > roomMm) return [];
    const symbolTop = headBottom + Math.max(0, (roomMm - blockMm) / 2) + quietMm;
    const symbolEdge = edgeBetween(symbolTop - quietMm, symbolTop + darkMm + quietMm + codeHeightMm) / 2;
    const symbolX = middleMm + symbolEdge - quietMm - darkMm;
    const footLeft = middleMm - widthBetween(headBottom, net.clearTopMm) / 2;
    const footWidth = symbolX - quietMm - footLeft - 0.5;
    if (footWidth < 15) return [];
    const logoMm = room.logo ? (headBottom - insetMm) * 0.42 : 0;
    // Where the ring is at least half as wide as the label: further up, a name would break after each word.
    const headTop = insetMm + (room.logo ? logoMm + 0.8 : (stock.labelHeightMm / 2 - insetMm) * 0.134);
    return [
      {
        symbol: { xMm: symbolX, yMm: symbolTop },
        code: { middleMm: symbolX + darkMm / 2, topMm: symbolTop + darkMm + quietMm, widthMm: sideMm },
        zones: [
          createZone(
            'head',
            { xMm: insetMm, yMm: headTop, widthMm: innerMm, heightMm: headBottom - headTop - 0.4 },
            { maxScale: 2, widthBetween: (top, bottom) => widthBetween(headTop + top, headTop + bottom) },
          ),
          createZone(
            'foot',
            { xMm: footLeft, yMm: headBottom + 0.6, widthMm: footWidth, heightMm: roomMm - 0.6 },
            { align: 'left', maxScale: 1.3 },
          ),
        ],
        logo: room.logo
          ? {
              xMm: middleMm - widthBetween(insetMm + 1, insetMm + 1 + logoMm) / 2,
              yMm: insetMm + 0.5,
              widthMm: widthBetween(insetMm + 1, insetMm + 1 + logoMm),
              heightMm: logoMm,
            }
          : undefined,
        frame: doubleFrame(stock),
      },
    ];
  });
}
