import type { Dispatch, DispatchKind, SeasonBoil } from '#libs/reports/season/flow.js';
import type { SeasonLot } from '#libs/reports/season/lot.js';
import { gallons, temperature, density, boil, lot, fills, line } from './tamarack-pieces.js';

export function threeBoils(): SeasonBoil[] {
  const first = boil('26076A', '2026-03-17', [['G041', '220 gal']], '220 gal', '5.5 gal');
  const second = boil('26077A', '2026-03-18', [['G042', '192 gal']], '192 gal', '6 gal');
  const third = boil(
    '26078A',
    '2026-03-19',
    [
      ['G043', '260 gal'],
      ['R007', '150 gal'],
    ],
    '410 gal',
    '10 gal',
  );
  return [
    first,
    {
      ...second,
      carriedFrom: [
        { code: '26076A', volumeTyped: '0.5 gal', millilitres: gallons(0.5) },
        { code: '25098A', volumeTyped: '1 gal', millilitres: gallons(1) },
      ],
    },
    third,
  ];
}

export function fiveLots(): SeasonLot[] {
  return [
    lot('26076A-1', ['26076A'], '2026-03-18T14:00:00-04:00', {
      jarsMade: 72,
      jarsOnHand: 30,
      jarsSentOut: 40,
      jarsOther: 2,
      lowestFillF: 183,
      lowestFillTyped: '183 F',
      syrupLitres: 17.034,
      sealsFailed: 0,
      readings: [
        temperature('hot pack', '192 F', '2026-03-18T14:00:00-04:00', 'T1', 'WE'),
        ...fills('2026-03-18', 14, '186 F', '184 F', '183 F'),
        density('density', '60.6 Bx', '2026-03-18T14:20:00-04:00', 'WE'),
        temperature('density sample', '185 F', '2026-03-18T14:20:00-04:00', 'T1', 'WE'),
      ],
      sentTo: [{ place: 'Millrace Green', kind: 'sale', jars: 40 }],
    }),
    lot('26077A-1', ['26077A', '26076A'], '2026-03-19T15:00:00-04:00', {
      jarsMade: 80,
      jarsOnHand: 38,
      jarsSentOut: 36,
      jarsDestroyed: 1,
      jarsOther: 2,
      unaccounted: 3,
      lowestFillF: 181.4,
      lowestFillTyped: '83 C',
      brix: 67.4,
      syrupLitres: 18.927,
      countedAt: '2026-05-30T10:00:00-04:00',
      readings: [
        ...fills('2026-03-19', 15, '85 C', '83 C', '84.5 C'),
        density('density', '36.2 Be', '2026-03-19T15:20:00-04:00', 'OE'),
      ],
      sentTo: [
        { place: 'Millrace Green', kind: 'sale', jars: 24 },
        { place: '=SUM(A1) stall', kind: 'sale', jars: 10 },
        { place: 'June Pascoe', kind: 'gift', jars: 2 },
      ],
      lateEntries: [
        {
          field: 'fill temperature',
          happenedAt: '2026-03-19T15:29:00-04:00',
          typedAt: '2026-03-21T09:00:00-04:00',
          hoursLate: 41.5,
        },
      ],
    }),
    lot('26078A-1', ['26078A'], '2026-03-20T13:00:00-04:00', {
      jarsMade: 60,
      jarsOnHand: 60,
      lowestFillF: 181,
      lowestFillTyped: '181 F',
      brix: 66.9,
      colour: 'Dark',
      transmittancePercent: 41,
      syrupLitres: 14.195,
      status: 'released',
      sealsFailed: 2,
      sealsOutcome: 'two lids refitted after reheating',
      readings: [...fills('2026-03-20', 13, '179 F', '184 F', '181 F')],
      findings: [
        {
          rule: 'fill-temperature',
          stop: true,
          limit: '180 °F or more in the jar when capped',
          found: '179 F at the first jar',
          source: 'maple food-safety handbook, filling hazards',
        },
      ],
      history: [
        line(91, '2026-03-20T13:40:00-04:00', 'WE', 'held', 'Held: 179 F at the first jar.'),
        line(96, '2026-03-20T15:10:00-04:00', 'WE', 'acted', 'The jars of the first five minutes were reheated.'),
        line(97, '2026-03-20T15:30:00-04:00', 'WE', 'released', 'Let go after reheating.'),
      ],
      correctiveActions: [
        {
          at: '2026-03-20T15:10:00-04:00',
          by: 'WE',
          jars: null,
          cause: null,
          found: '179 F at the first jar',
          done: 'Twelve jars emptied, the syrup reheated to 192 F and packed again into hot jars.',
          readings: [temperature('fill', '184 F', '2026-03-20T15:05:00-04:00', 'T1', 'WE')],
        },
      ],
      released: { by: 'WE', at: '2026-03-20T15:30:00-04:00', why: 'Reheated and packed again; all at 184 F.' },
    }),
    lot('26081X-1', ['26077A', '26078A'], '2026-03-22T10:00:00-04:00', {
      jarsMade: 24,
      jarsOnHand: 24,
      container: 'plastic jug 32 fl oz',
      containerMillilitres: 946.353,
      lowestFillF: null,
      lowestFillTyped: null,
      brix: 66.4,
      colour: 'Very Dark',
      transmittancePercent: 18,
      sealsFailed: null,
      syrupLitres: 22.712,
      status: 'held',
      statusWhy: '66.4 °Bx is below 66.9 °Bx, and no fill temperature was read.',
      findings: [
        {
          rule: 'fill-not-read',
          stop: true,
          limit: '180 °F or more in the jar when capped',
          found: 'not read',
          source: 'maple food-safety handbook, filling hazards',
        },
        {
          rule: 'density-too-thin',
          stop: true,
          limit: '66.9 °Bx or more',
          found: '66.4 °Bx',
          source: 'UVM Extension; 6 V.S.A. ch. 32',
        },
      ],
      history: [line(140, '2026-03-22T10:30:00-04:00', 'OE', 'held', 'Held: too thin, and no fill temperature.')],
    }),
    lot('26078A-2', ['26078A'], '2026-03-24T09:30:00-04:00', {
      jarsMade: 20,
      jarsOnHand: 4,
      jarsSentOut: 14,
      jarsDestroyed: 2,
      container: 'metal can 500 mL',
      containerMillilitres: 500,
      lowestFillF: 187,
      lowestFillTyped: '187 F',
      brix: 68.1,
      colour: 'Dark',
      syrupLitres: 10,
      status: 'recalled',
      statusWhy: 'A can leaked at the seam.',
      readings: [...fills('2026-03-24', 10, '190 F', '187 F')],
      history: [
        {
          ...line(150, '2026-03-25T08:00:00-04:00', 'JP', 'corrected', 'Jars made: 20, not 21.'),
          field: 'jars',
          was: '21',
          now: '20',
          why: 'counted again on the shelf',
        },
      ],
      sentTo: [
        { place: 'Millrace Green', kind: 'sale', jars: 8 },
        { place: 'Bracken Lane Sugarbush', kind: 'sale', jars: 6 },
      ],
    }),
  ];
}

export function dispatches(): Dispatch[] {
  const sent = (
    id: string,
    lotCode: string,
    jars: number,
    to: string,
    kind: DispatchKind,
    sentAt = '2026-04-04T08:00:00-04:00',
  ): Dispatch => ({
    id,
    lot: lotCode,
    jars,
    jarCodes: [],
    sentAt,
    to,
    how: kind,
    kind,
    contact: to === 'Bracken Lane Sugarbush' ? '802 555 0177' : null,
    by: 'JP',
    planned: sentAt > '2026-06-01',
  });
  return [
    sent('S1', '26076A-1', 40, 'Millrace Green', 'sale'),
    sent('S2', '26076A-1', 2, 'own pantry', 'kept'),
    sent('S3', '26077A-1', 24, 'Millrace Green', 'sale'),
    sent('S4', '26077A-1', 10, '=SUM(A1) stall', 'sale'),
    sent('S5', '26077A-1', 2, 'June Pascoe', 'gift'),
    sent('S6', '26077A-1', 1, 'compost', 'destroyed'),
    sent('S7', '26077A-1', 2, 'shelf copy', 'retained'),
    sent('S8', '26078A-2', 8, 'Millrace Green', 'sale'),
    sent('S9', '26078A-2', 6, 'Bracken Lane Sugarbush', 'sale'),
    sent('S10', '26078A-2', 2, 'compost', 'destroyed'),
    { ...sent('S11', '26078A-1', 30, 'Millrace Green', 'sale', '2026-06-20T08:00:00-04:00'), planned: true },
  ];
}
