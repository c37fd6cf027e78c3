import {
  act,
  checks,
  correct,
  hold,
  pack,
  record,
  release,
  send,
  type VerdictCase,
  density,
  one,
  open,
} from './verdict-case.js';

/** Jars that leave, rinsed pans, good water and bought syrup: none may hold a lot. */
export const soundLeaving: readonly VerdictCase[] = [
  open('an ordinary sale goes out', { after: [send('6')] }),
  open('a gift and a planned sale go out', {
    after: [send('2', { kind: 'gift' }), send('4', { sentAt: '2026-06-01T09:00' })],
  }),
  open('a rinsed pan asks nothing', {
    before: [
      record('cleanings', {
        at: '2026-03-17T18:00',
        what: 'finish pan',
        with: 'unscented bleach',
        strength: '1 to 20',
        rinsed: 'clean water, three times',
      }),
    ],
  }),
  open('a good water test asks nothing', {
    before: [record('water-tests', { at: '2026-03-10T09:00', source: 'house well', result: 'no coliform found' })],
  }),
  open('E. coli absent asks nothing', {
    before: [record('water-tests', { at: '2026-03-10T09:00', source: 'house well', result: 'E. coli absent' })],
  }),
  open('old solder recorded flags no lot by itself', {
    before: [
      record('equipment', {
        id: 'TANK1',
        at: '2026-03-01T09:00',
        what: 'gathering tank',
        material: 'stainless',
        solder: 'none',
      }),
    ],
  }),
  open('bought syrup in a blend holds nothing', {
    before: [
      record('receipts', {
        id: 'R001',
        supplier: 'Bracken Lane Sugarbush',
        contact: 'Bracken Lane',
        volume: '10 gal',
        density: '67 Bx',
        receivedAt: '2026-03-18T09:00',
        allergens: 'none',
        by: 'OE',
      }),
    ],
    pack: { fromLots: '26077A:0.75 gal;R001:0.75 gal', lot: '26078X-1' },
    lot: '26078X-1',
  }),
  {
    is: 'a lot held by hand and released is released',
    after: [hold(), release()],
    state: 'released',
  },
  {
    is: 'a lot perhaps hot enough is released with a reason',
    checks: checks('29 F', '207.4 F'),
    pack: one('178 F#T1 jar 24'),
    after: [release('two other thermometers read 182 F in the same jar')],
    state: 'released',
  },
  {
    is: 'cold jars filled again with readings that span them are released',
    pack: one('178 F@10:05#T1 jar 12;177 F@10:25#T1 jar 24'),
    after: [act({ jars: '1-24', fillTemps: '188 F#T1 jar 12;187 F#T1 jar 24' }), release('filled again')],
    state: 'released',
  },
  {
    is: 'cold jars destroyed are off sale and the rest is released',
    pack: one('186 F#T1 jar 12;178 F#T1 jar 24'),
    after: [act({ jars: '13-24', way: 'destroyed', done: 'poured out' }), release('the cold ones are gone')],
    state: 'released',
  },
  {
    is: 'cold jars poured back are off sale and the rest is released',
    pack: one('186 F#T1 jar 12;178 F#T1 jar 24'),
    after: [
      act({ jars: '13-24', way: 'poured-back', done: 'poured back into the kettle' }),
      release('the cold ones are gone'),
    ],
    state: 'released',
  },
  {
    is: 'a typing mistake corrected from 18 to 184 is released with a reason',
    pack: one('18 F#T1 jar 24'),
    after: [correct('pack', pack, one('184 F#T1 jar 24'), 'the 4 was not written'), release('the sheet says 184')],
    state: 'released',
  },
  {
    is: 'a lot measured again and thick enough is released',
    pack: density('66.7 Bx', '68 F', 'refractometer'),
    after: [
      act({
        jars: 'all',
        cause: 'measured again',
        found: '66.7 Bx, near the limit',
        done: 'measured again',
        ...density('67.1 Bx', '68 F', 'refractometer'),
      }),
      release('measured again'),
    ],
    state: 'released',
  },
  {
    is: 'a lot with more sugar than came in is released with a reason',
    boil: { syrupVolume: '4 gal' },
    lot: '26077A',
    after: [release('sweet left from the last boil', '26077A')],
    state: 'released',
  },
  {
    is: 'the free jars of a partly held pack are sold by count',
    pack: one('186 F#T1 jar 12;178 F#T1 jar 24'),
    after: [send('12')],
    state: 'held',
  },
  ...(['destroyed', 'broken', 'retained'] as const).map((kind): VerdictCase => ({
    is: `${kind} jars of a held lot are accepted`,
    after: [hold(), send('2', { kind })],
    state: 'held',
  })),
  {
    is: 'jars of a held lot that have already left are accepted as a deviation',
    after: [hold(), send('2', { alreadyLeft: 'yes' })],
    state: 'held',
  },
  {
    is: 'returned jars of a held lot are accepted',
    after: [send('4'), hold(), send('1', { kind: 'returned', sentAt: '2026-04-25T09:00' })],
    state: 'held',
  },
];
