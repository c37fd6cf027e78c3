export const ink = {
  black: '#1d1a16',
  soft: '#5c5348',
  hair: '#d9d0c0',
  band: '#ece5d5',
  stamp: '#9b2418',
  paper: '#fefefe',
} as const;

/**
 * A picture for a page with a light and a dark theme: its ink becomes the page's own (`currentColor`, `--chart-paper`,
 * `--chart-hair`, `--chart-band`, `--stamp`). The PDF takes the picture as it is.
 */
export const onPage = (svg: string): string =>
  svg
    .replaceAll(ink.black, 'currentColor')
    .replaceAll(ink.soft, 'currentColor')
    .replaceAll(ink.paper, `var(--chart-paper, ${ink.paper})`)
    .replaceAll(ink.hair, `var(--chart-hair, ${ink.hair})`)
    .replaceAll(ink.band, `var(--chart-band, ${ink.band})`)
    .replaceAll(ink.stamp, `var(--stamp, ${ink.stamp})`);
