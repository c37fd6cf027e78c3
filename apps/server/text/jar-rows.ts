import type { JarBalance } from '#libs/store/queries/jar-balance.js';

/** Where jars are, as every reconciliation counts them. */
export interface JarsAccounted {
  readonly made: number;
  readonly onHand: number;
  readonly sentOut: number;
  readonly other: number;
  readonly destroyed: number;
  readonly unaccounted: number | null;
  /** What `other` is made of, where that is known. */
  readonly parts?: JarBalance['parts'];
}

/** The percentage of the jars made that was found; over 100 % is a finding too. */
export const accountedFor = 'accounted for';

/** The reconciliation row by row; too many jars are shown like too few. */
export function jarRows(jars: JarsAccounted): [string, number | string][] {
  const { made, onHand, sentOut, destroyed, unaccounted } = jars;
  return [
    ['made', made],
    ['on hand', onHand],
    ['sent out', sentOut],
    ...otherRows(jars),
    ['destroyed', destroyed],
    [
      unaccounted !== null && unaccounted < 0 ? 'more than were made' : 'unaccounted',
      unaccounted === null ? 'not counted yet' : Math.abs(unaccounted),
    ],
    ...(unaccounted === null || made === 0
      ? []
      : ([[accountedFor, `${Math.round(((made - unaccounted) / made) * 1000) / 10} %`]] as [string, string][])),
  ];
}

/** Each part of the jars that are neither on hand nor sent out nor destroyed; in one row where the parts aren’t known. */
function otherRows({ other, parts }: JarsAccounted): [string, number][] {
  const rows: [string, number][] = parts
    ? [
        ['kept', parts.kept],
        ['retained', parts.retained],
        ['samples', parts.sample],
        ['broken', parts.broken],
        ['poured back', parts.pouredBack],
        ['returned, set apart', parts.returnedApart],
      ]
    : [];
  const recorded = rows.filter(([, jars]) => jars !== 0);
  return recorded.length > 0 ? recorded : [['kept, samples, broken, returned', other]];
}
