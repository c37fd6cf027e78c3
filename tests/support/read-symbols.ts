import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import jsqr from 'jsqr';
import type { PDFDocumentProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import { packageRoot } from '#libs/package-root.js';
import { getDocument } from './pdfjs.js';

/** Text in the finished PDF, in millimetres from the page's top left. */
export interface TextFound {
  readonly text: string;
  readonly xMm: number;
  readonly baselineMm: number;
  readonly emMm: number;
  readonly widthMm: number;
}

export interface Picture {
  readonly width: number;
  readonly height: number;
  /** 0 black, 255 white. */
  readonly grey: Uint8Array;
  readonly dpi: number;
}

const mmPerPoint = 25.4 / 72;

export async function openPdf(pdf: Buffer): Promise<PDFDocumentProxy> {
  return getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise;
}

export async function textsOf(document: PDFDocumentProxy, pageNumber: number): Promise<TextFound[]> {
  const page = await document.getPage(pageNumber);
  const [, , , pageHeight] = page.view as [number, number, number, number];
  const { items } = await page.getTextContent();
  return items.flatMap((item) => {
    if (!('str' in item) || item.str.trim() === '') return [];
    const [a, b, , , x, y] = item.transform as [number, number, number, number, number, number];
    return [
      {
        text: item.str,
        xMm: x * mmPerPoint,
        baselineMm: (pageHeight - y) * mmPerPoint,
        emMm: Math.hypot(a, b) * mmPerPoint,
        widthMm: item.width * mmPerPoint,
      },
    ];
  });
}

export interface PartMm {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** The page as a printer's dots, or a part of it. */
export async function printed(
  document: PDFDocumentProxy,
  pageNumber: number,
  dpi: number,
  part?: PartMm,
): Promise<Picture> {
  const page = await document.getPage(pageNumber);
  const dots = (mm: number): number => Math.round((mm * dpi) / 25.4);
  const offset = part ? { offsetX: -dots(part.xMm), offsetY: -dots(part.yMm) } : {};
  const viewport = page.getViewport({ scale: dpi / 72, ...offset });
  const [width, height] = part
    ? [dots(part.widthMm), dots(part.heightMm)]
    : [Math.ceil(viewport.width), Math.ceil(viewport.height)];
  const factory = document.canvasFactory as unknown as {
    create(width: number, height: number): { canvas: HTMLCanvasElement; context: CanvasRenderingContext2D };
  };
  const { canvas, context } = factory.create(width, height);
  await page.render({ canvasContext: context, canvas, viewport }).promise;
  const { data } = context.getImageData(0, 0, width, height);
  const grey = new Uint8Array(width * height);
  for (let at = 0; at < grey.length; at++)
    grey[at] = 0.299 * data[at * 4]! + 0.587 * data[at * 4 + 1]! + 0.114 * data[at * 4 + 2]!;
  return { width, height, grey, dpi };
}

export function cropped(picture: Picture, xMm: number, yMm: number, widthMm: number, heightMm: number): Picture {
  const dots = (mm: number): number => Math.round((mm * picture.dpi) / 25.4);
  const [left, top, width, height] = [dots(xMm), dots(yMm), dots(widthMm), dots(heightMm)];
  const grey = new Uint8Array(width * height).fill(255);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const from = (top + y) * picture.width + left + x;
      if (top + y < picture.height && left + x < picture.width) grey[y * width + x] = picture.grey[from]!;
    }
  return { width, height, grey, dpi: picture.dpi };
}

/** A drop of dried syrup. */
export function blotted(picture: Picture, xMm: number, yMm: number, radiusMm: number): Picture {
  const dots = (mm: number): number => (mm * picture.dpi) / 25.4;
  const grey = picture.grey.slice();
  for (let y = 0; y < picture.height; y++)
    for (let x = 0; x < picture.width; x++)
      if (Math.hypot(x - dots(xMm), y - dots(yMm)) < dots(radiusMm)) grey[y * picture.width + x] = 70;
  return { ...picture, grey };
}

/** A phone that is too near: a box blur, twice, by running sums. */
export function blurred(picture: Picture, radiusMm: number): Picture {
  const radius = Math.max(1, Math.round((radiusMm * picture.dpi) / 25.4));
  const { width, height } = picture;
  let grey = picture.grey;
  for (let turn = 0; turn < 2; turn++) {
    grey = blurLines(grey, { lines: height, lineStep: width, length: width, step: 1 }, radius);
    grey = blurLines(grey, { lines: width, lineStep: 1, length: height, step: width }, radius);
  }
  return { ...picture, grey };
}

interface Walk {
  readonly lines: number;
  readonly lineStep: number;
  readonly length: number;
  readonly step: number;
}

function blurLines(from: Uint8Array, { lines, lineStep, length, step }: Walk, radius: number): Uint8Array {
  const to = new Uint8Array(from.length);
  for (let line = 0; line < lines; line++) {
    const at = (place: number): number => from[line * lineStep + Math.min(length - 1, Math.max(0, place)) * step]!;
    let sum = 0;
    for (let near = -radius; near <= radius; near++) sum += at(near);
    for (let place = 0; place < length; place++) {
      to[line * lineStep + place * step] = sum / (2 * radius + 1);
      sum += at(place + radius + 1) - at(place - radius);
    }
  }
  return to;
}

export async function readByFirst(picture: Picture, most = 255): Promise<string[]> {
  await ready;
  const found = await readBarcodes(imageOf(picture) as unknown as ImageData, {
    formats: ['QRCode'],
    maxNumberOfSymbols: most,
    tryHarder: true,
  });
  return found.filter(({ isValid }) => isValid).map(({ text }) => text);
}

/** Finds one symbol, so it is given one label at a time. */
export function readBySecond(picture: Picture): string | undefined {
  const { data, width, height } = imageOf(picture);
  const decode = jsqr as unknown as (data: Uint8ClampedArray, width: number, height: number) => { data: string } | null;
  return decode(data, width, height)?.data;
}

function imageOf({ grey, width, height }: Picture): { data: Uint8ClampedArray; width: number; height: number } {
  const data = new Uint8ClampedArray(width * height * 4);
  const text = new Uint32Array(data.buffer);
  for (let at = 0; at < grey.length; at++) text[at] = 0xff000000 + grey[at]! * 0x010101;
  return { data, width, height };
}

const wasm = createRequire(join(packageRoot, 'package.json')).resolve('zxing-wasm/reader/zxing_reader.wasm');
const ready = prepareZXingModule({
  overrides: { wasmBinary: readFileSync(wasm).buffer },
  fireImmediately: true,
});
