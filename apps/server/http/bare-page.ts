import { createHash } from 'node:crypto';

const style =
  ':root{color-scheme:light dark;--paper:#f8f3e7;--ink:#1d1a16;--edge:#9b2418}' +
  '@media(prefers-color-scheme:dark){:root{--paper:#13100c;--ink:#efe4cc;--edge:#ff9a86}}' +
  'body{margin:0 auto;max-width:40rem;padding:2rem 1.25rem;background:var(--paper);color:var(--ink);font:1.125rem/1.5 system-ui,sans-serif;overflow-wrap:break-word}' +
  'h1{font-size:1.75rem;line-height:1.15;margin:0 0 1rem;border-left:.45rem double var(--edge);padding-left:.9rem}' +
  'a{color:inherit}' +
  'code{font-family:ui-monospace,monospace;font-weight:700}';

/** The page may load only its own style: it is drawn where the server serves nothing else. */
export const barePolicy = [
  "default-src 'none'",
  `style-src 'sha256-${createHash('sha256').update(style).digest('base64')}'`,
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ');

/**
 * A page of a title and paragraphs, for where the usual layout can't be drawn. Both are HTML: the caller escapes them.
 */
export const barePage = (title: string, paragraphs: readonly string[]): string =>
  `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${title}</title><style>${style}</style></head><body><main><h1>${title}</h1>${paragraphs.map((each) => `<p>${each}</p>`).join('')}</main></body></html>`;

/** Text escaped for HTML. */
export const escaped = (text: string): string => text.replace(/[&<>"']/g, (letter) => `&#${letter.charCodeAt(0)};`);
