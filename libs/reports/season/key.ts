import type { Season } from './season.js';

/** Code or word, and its meaning. */
export interface KeyLine {
  readonly code: string;
  readonly means: string;
}

/** The key to the codes, the same in the PDF and in the spreadsheet. */
export function keyLines(season: Season): readonly KeyLine[] {
  return [
    { code: 'G041', means: 'A gathering of sap, or what a neighbour or supplier brought: its own id.' },
    { code: '26077A', means: 'A boil: year, day of the year it began, a letter in order.' },
    { code: '26077A-1', means: 'A pack drawn from that boil, first run.' },
    { code: '26081X-1', means: 'A pack blended from several lots: year, day packed, X, run.' },
    {
      code: 'K7QM-3XWT',
      means: 'One jar: seven characters and a check (ISO/IEC 7064 MOD 37-2), never I, L, O or U.',
    },
    { code: 'open', means: 'No rule holds it; it may be sent out.' },
    { code: 'held', means: 'Held by a rule or a person; it may not be sent out.' },
    { code: 'released', means: 'Was held and was released; by whom and why is recorded.' },
    { code: 'recalled', means: 'Recalled from everyone it went to.' },
    { code: 'unaccounted', means: 'Made, less on hand, sent out, destroyed and other; known once jars are counted.' },
    { code: 'time', means: `Times without an offset are those of ${season.house.zone}.` },
    ...season.people.map((person) => ({ code: person.initials, means: `${person.name}, ${person.role}` })),
    ...season.side.instruments.map((one) => ({ code: one.id, means: `${one.kind}: ${one.description}` })),
  ];
}
