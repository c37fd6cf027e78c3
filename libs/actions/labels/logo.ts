import type { Sharp } from 'sharp';
import type { LabelLogo } from '#libs/labels/content/label-look.js';
import type { Book } from '#libs/store/book.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { invalid, type Refusal } from '../record/problem.js';
import type { WriteContext } from '../record/write-context.js';
import { readSetting, saveSettings } from './house-setting.js';
import { logoKind, logoLimits } from './logo-check.js';

/** The drawing as stored: checked, on white, trimmed, at most 1,000 pixels on its longer side. */
export interface StoredLogo {
  readonly kind: 'svg' | 'png';
  readonly widthPx: number;
  readonly heightPx: number;
  readonly by: string;
  readonly at: string;
  readonly png: Uint8Array;
}

const settingName = 'label-logo';
const maxSidePx = 1000;
/** Grey levels (0 to 255) darker than this print as ink. */
const inkThreshold = 160;

/**
 * Saves a maker's drawing for labels, or refuses: wrong type, too large, scripts or references in it, or nothing left
 * in black and white. The stored file is drawn anew, never the one that was sent.
 */
export async function saveLogo(
  book: Book,
  context: WriteContext,
  bytes: Uint8Array,
): Promise<{ readonly logo: StoredLogo } | Refusal> {
  const checked = logoKind(bytes);
  if ('problem' in checked) return checked;
  const drawn = await redraw(bytes, checked.kind);
  if ('problem' in drawn) return drawn;
  const logo: StoredLogo = { ...drawn, kind: checked.kind, by: context.by, at: context.now.toISOString() };
  const text = JSON.stringify({ ...logo, png: Buffer.from(logo.png).toString('base64') });
  await saveSettings(book, context, { [settingName]: text });
  return { logo };
}

/** Removes the house's logo from labels printed from now on. */
export const removeLogo = (book: Book, context: Pick<WriteContext, 'sugarhouse'>): Promise<void> =>
  saveSettings(book, context, { [settingName]: '' });

/** The sugarhouse's logo; undefined where it has none. */
export async function loadStoredLogo(reader: SugarhouseReader): Promise<StoredLogo | undefined> {
  const stored = await readSetting<Omit<StoredLogo, 'png'> & { readonly png: string }>(reader, settingName);
  return stored && { ...stored, png: Buffer.from(stored.png, 'base64') };
}

/** The drawing in the formats that labels are printed from; undefined where there is none. */
export async function loadPrintableLogo(reader: SugarhouseReader): Promise<LabelLogo | undefined> {
  const stored = await loadStoredLogo(reader);
  if (!stored) return undefined;
  const key = `${reader.sugarhouse} ${stored.at} ${stored.png.length}`;
  const cached = renderedLogos.get(key);
  if (cached) return cached;
  const rendered = await renderForPrinting(stored);
  if (renderedLogos.size > 8) renderedLogos.clear();
  renderedLogos.set(key, rendered);
  return rendered;
}

const renderedLogos = new Map<string, LabelLogo>();

async function renderForPrinting({ png, widthPx, heightPx }: StoredLogo): Promise<LabelLogo> {
  const rgb = await (await openImage(png)).removeAlpha().toColourspace('srgb').raw().toBuffer();
  const grey = await greyPixels(png);
  const rowBytes = Math.ceil(widthPx / 8);
  const ink = new Uint8Array(rowBytes * heightPx).fill(255);
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++)
      if (grey[y * widthPx + x]! < inkThreshold) ink[y * rowBytes + (x >> 3)]! &= ~(0x80 >> (x & 7));
  const inkPng = await (await openImage(png)).greyscale().threshold(inkThreshold).png().toBuffer();
  return { widthPx, heightPx, ink, rgb, inkPng, colourPng: png };
}

type RedrawnLogo = Pick<StoredLogo, 'png' | 'widthPx' | 'heightPx'>;

async function redraw(bytes: Uint8Array, kind: 'svg' | 'png'): Promise<RedrawnLogo | Refusal> {
  try {
    const { width, height } = await (await openImage(bytes)).metadata();
    if (width * height > logoLimits.pixels)
      return invalid(
        'file',
        'a drawing of 25 million pixels at most',
        `one of ${width} × ${height} pixels: save it smaller`,
      );
    if (kind === 'png' && Math.max(width, height) < logoLimits.leastPixels)
      return invalid(
        'file',
        `${logoLimits.leastPixels} pixels at its longer side, to print sharply`,
        `${width} × ${height}`,
      );
    const density = Math.min(2400, Math.max(1, (72 * maxSidePx) / Math.max(width, height)));
    const whole = (await openImage(bytes, kind === 'svg' ? density : undefined))
      .flatten({ background: '#ffffff' })
      .resize(maxSidePx, maxSidePx, { fit: 'inside', withoutEnlargement: kind === 'png' });
    const flat = await whole.png().toBuffer();
    const { data, info } = await (
      await openImage(flat)
    )
      .trim({ background: '#ffffff', threshold: 12 })
      .png({ compressionLevel: 9, palette: true })
      .toBuffer({ resolveWithObject: true });
    const fault = await inkFault(data);
    return fault ?? { png: data, widthPx: info.width, heightPx: info.height };
  } catch {
    return invalid('file', 'a drawing that can be read', `a broken ${kind.toUpperCase()} file`);
  }
}

/** A drawing must stay recognisable on a printer with black only: neither pale nor one dark block. */
async function inkFault(png: Uint8Array): Promise<Refusal | undefined> {
  const grey = await greyPixels(png);
  let drawn = 0;
  let ink = 0;
  for (const value of grey) {
    if (value < 245) drawn++;
    if (value < inkThreshold) ink++;
  }
  if (drawn < grey.length * 0.002) return invalid('file', 'a drawing in dark ink', 'one that is white all over');
  if (ink < drawn * 0.25)
    return invalid(
      'file',
      'a drawing that is dark enough for a printer that has only black',
      `one of which ${Math.round((100 * ink) / drawn)} % would be left in black: draw it darker`,
    );
  return ink > grey.length * 0.97
    ? invalid('file', 'a drawing that can be recognised in black and white', 'one that prints as a black block')
    : undefined;
}

const greyPixels = async (png: Uint8Array): Promise<Uint8Array> =>
  (await openImage(png)).greyscale().toColourspace('b-w').raw().toBuffer();

/** Loaded only when a drawing is needed: the library takes longer to load than most pages to render. */
async function openImage(bytes: Uint8Array, density?: number): Promise<Sharp> {
  const { default: sharp } = await import('sharp');
  return sharp(bytes, { limitInputPixels: logoLimits.pixels * 2, ...(density === undefined ? {} : { density }) });
}
