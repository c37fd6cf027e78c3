/** Where jars are, as every reconciliation counts them. */
export interface JarsAccounted {
  readonly made: number;
  readonly onHand: number;
  readonly sentOut: number;
  readonly other: number;
  readonly destroyed: number;
  readonly unaccounted: number | null;
}

/** The percentage of the jars made that was found; over 100 % is a finding too. */
export const accountedFor = 'accounted for';

/** The reconciliation row by row; too many jars are shown like too few. */
export function jarRows(jars: JarsAccounted): [string, number | string][] {
  const { made, onHand, sentOut, other, destroyed, unaccounted } = jars;
  return [
    ['made', made],
    ['on hand', onHand],
    ['sent out', sentOut],
    ['kept, samples, broken', other],
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
