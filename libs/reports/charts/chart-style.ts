export const ink = {
  black: '#1d1a16',
  soft: '#5c5348',
  hair: '#d9d0c0',
  band: '#ece5d5',
  stamp: '#9b2418',
  paper: '#fefefe',
} as const;

/**
 * Adapts a picture to a page with light and dark themes: its colours become the page's (`currentColor`,
 * `--chart-paper`, `--chart-hair`, `--chart-band`, `--stamp`). The PDF uses the picture unchanged.
 */
export const onPage = (svg: string): string =>
  svg
    .replaceAll(ink.black, 'currentColor')
    .replaceAll(ink.soft, 'currentColor')
    .replaceAll(ink.paper, `var(--chart-paper, ${ink.paper})`)
    .replaceAll(ink.hair, `var(--chart-hair, ${ink.hair})`)
    .replaceAll(ink.band, `var(--chart-band, ${ink.band})`)
    .replaceAll(ink.stamp, `var(--stamp, ${ink.stamp})`);
