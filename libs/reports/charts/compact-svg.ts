/** Consecutive marks that differ only in their position. */
const runOfMarks = /(?:<path transform="[^"]*" d="[^"]*"[^>]*\/>){3,}/g;
const mark = /<path transform="([^"]*)" d="([^"]*)"([^>]*?)\/>/g;

/**
 * The same picture in fewer bytes, for a page: positions to a hundredth of a point, and shared attributes of a run of
 * marks written once. A season of a thousand readings is otherwise half a megabyte.
 */
export const compactSvg = (svg: string): string =>
  svg
    .replace(/ (?:transform|d)="[^"]*"/g, (attribute) =>
      attribute.replace(/-?\d+\.\d{3,}/g, (n) => String(Math.round(Number(n) * 100) / 100)),
    )
    .replace(runOfMarks, (run) => {
      const marks = [...run.matchAll(mark)].map(([, place = '', shape = '', rest = '']) => ({ place, shape, rest }));
      let grouped = '';
      for (let first = 0; first < marks.length;) {
        const { rest = '' } = marks[first] ?? {};
        let end = first;
        while (end < marks.length && marks[end]?.rest === rest) end++;
        const paths = marks.slice(first, end).map(({ place, shape }) => `<path transform="${place}" d="${shape}"/>`);
        grouped += rest.trim() === '' ? paths.join('') : `<g${rest}>${paths.join('')}</g>`;
        first = end;
      }
      return grouped;
    });
