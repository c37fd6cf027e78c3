import { type Refusal, invalid } from '../record/problem.js';

export const maxFileBytes = 20 * 1024 * 1024;
/** Phone cameras give 12 to 50 megapixels; more is no photo of a gauge. */
export const maxPixels = 64_000_000;
const maxSidePx = 1600;

export interface StoredImage {
  readonly content: Buffer;
  readonly width: number;
  readonly height: number;
}

const expected = 'a photo as JPEG, PNG or WebP';

/**
 * The image stored for a photo: decoded and drawn anew as JPEG, turned upright, at most 1,600 pixels long, without the
 * file's metadata (place, time, camera, thumbnail). Anything but a plain photo is refused with a sentence.
 */
export async function encodeForStorage(bytes: Uint8Array): Promise<StoredImage | Refusal> {
  if (bytes.length === 0) return invalid('photo', expected, 'nothing');
  if (bytes.length > maxFileBytes)
    return invalid('photo', 'at most 20 MB', `${(bytes.length / 1024 / 1024).toFixed(1)} MB`);
  const file = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const kind = detectFormat(file);
  if (kind === undefined) return invalid('photo', expected, describeOtherFile(file));
  const hidden = findSecondFormat(file);
  if (hidden) return invalid('photo', expected, `a picture that is ${hidden} as well`);
  // Loaded with the first photo: it is a native library, and most starts need none.
  const { default: sharp } = await import('sharp');
  sharp.cache(false);
  const options = { limitInputPixels: maxPixels, failOn: 'error', pages: 1, sequentialRead: true } as const;
  try {
    const { format, width, height } = await sharp(file, options).metadata();
    if (format !== kind) return invalid('photo', expected, `a file that begins like ${kind} but is ${format}`);
    if (width * height > maxPixels) return tooManyPixels(`${width} × ${height}`);
    const { data, info } = await sharp(file, options)
      .timeout({ seconds: 20 })
      .autoOrient()
      .resize({ width: maxSidePx, height: maxSidePx, fit: 'inside', withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .toColourspace('srgb')
      .jpeg({ quality: 80 })
      .toBuffer({ resolveWithObject: true });
    return { content: data, width: info.width, height: info.height };
  } catch (fault) {
    const { message } = fault as Error;
    if (/pixel limit/i.test(message)) return tooManyPixels('more');
    return invalid('photo', expected, 'a file that is damaged or not a picture');
  }
}

/** A smaller copy for lists, 320 pixels wide. */
export async function encodeThumbnail(content: Buffer, width = 320): Promise<Buffer> {
  const { default: sharp } = await import('sharp');
  return sharp(content, { limitInputPixels: maxPixels })
    .resize({ width, withoutEnlargement: true })
    .jpeg({ quality: 70 })
    .toBuffer();
}

const tooManyPixels = (got: string): Refusal =>
  invalid('photo', `at most ${maxPixels / 1_000_000} million points`, got === 'more' ? got : `${got} points`);

/** Detected by the first bytes, never by the name or type that was sent along. */
function detectFormat(file: Buffer): 'jpeg' | 'png' | 'webp' | undefined {
  if (file.subarray(0, 3).equals(Buffer.from([0xff, 0xd8, 0xff]))) return 'jpeg';
  if (file.subarray(0, 8).equals(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]))) return 'png';
  if (file.toString('latin1', 0, 4) === 'RIFF' && file.toString('latin1', 8, 12) === 'WEBP') return 'webp';
  return undefined;
}

function describeOtherFile(file: Buffer): string {
  const start = file.toString('latin1', 0, 1024);
  if (start.includes('%PDF-')) return 'a PDF';
  if (/<svg|<\?xml/i.test(start)) return 'a drawing (SVG)';
  if (/^.{4}ftyp(hei|hev|mif|msf)/s.test(start)) return 'a HEIC picture: set the camera to “most compatible”';
  if (start.startsWith('GIF8')) return 'a GIF';
  if (start.startsWith('PK')) return 'a ZIP file';
  return 'another kind of file';
}

/** A file that also opens as another type (PDF readers look at the first 1,024 bytes). */
function findSecondFormat(file: Buffer): string | undefined {
  const start = file.toString('latin1', 0, 4096);
  if (start.slice(0, 1024).includes('%PDF-')) return 'a PDF';
  if (/<svg[\s>]|<script[\s>]|<html[\s>]|<!doctype|<\?php/i.test(start)) return 'a web page';
  if (file.subarray(-65_557).includes(Buffer.from('PK\u0005\u0006', 'latin1'))) return 'a ZIP file';
  return undefined;
}
