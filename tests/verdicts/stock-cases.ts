import {
  act,
  another,
  correct,
  pack,
  record,
  release,
  send,
  type Step,
  type Texts,
  type VerdictCase,
} from './verdict-case.js';

/** Another pack, of syrup poured from the first or from a later one. */
export const pouredFrom = (packedAt: string, portion = '1 gal', from = pack, more: Texts = {}): Step =>
  another('pack', {
    fromLots: `${from}:${portion}`,
    packedAt,
    hotPackTemp: '192 F',
    fillTemps: '186 F#T1 jar 1;185 F#T1 jar 8',
    jars: '8',
    ...more,
  });
const afterPouring = '2026-03-28T09:00';
const broken = { brokenGlass: '5' };
const inspected = (more: Texts = {}): Step =>
  act({ way: 'inspected', jars: '3-7', found: 'glass broke at jar 5', done: 'held them against the light', ...more });

/** Splinters in syrup that was poured from one pack into another. */
const pouredSplinters: readonly VerdictCase[] = [
  {
    is: 'jars inspected after part of their pack was poured into another leave the splinters in that one',
    pack: broken,
    after: [pouredFrom('2026-03-21T13:00'), inspected({ at: afterPouring })],
    lot: '26077A-2',
    state: 'held',
    rule: 'glass-poured-in',
  },
  {
    is: 'jars destroyed after part of their pack was poured into another leave the splinters in that one',
    pack: broken,
    after: [
      pouredFrom('2026-03-21T13:00'),
      inspected({ at: afterPouring, way: 'destroyed', done: 'thrown out' }),
      release('they are gone'),
    ],
    lot: '26077A-2',
    state: 'held',
    rule: 'glass-poured-in',
  },
  ...(['inspected', 'destroyed'] as const).map((way) => ({
    is: `jars can’t be ${way} once all the syrup of their pack was poured into another`,
    pack: broken,
    after: [pouredFrom('2026-03-21T13:00', '1.5 gal'), inspected({ at: afterPouring, way })],
    lot: '26077A-2',
    state: 'held' as const,
    rule: 'glass-poured-in',
    refuses: /poured into another pack/,
  })),
  {
    is: 'an inspection dated before the pouring and recorded after it leaves the pack to a maker',
    pack: broken,
    after: [pouredFrom('2026-03-21T13:00'), inspected()],
    lot: '26077A-2',
    state: 'held',
  },
  {
    is: 'splinters go through a pack in between',
    pack: broken,
    after: [
      pouredFrom('2026-03-21T13:00'),
      pouredFrom('2026-03-27T15:00', '1 pt', '26077A-2', { jars: '2', fillTemps: '186 F#T1 jar 2' }),
      inspected({ at: afterPouring }),
      release('no splinters'),
    ],
    lot: '26077A-3',
    state: 'held',
    rule: 'glass-poured-in',
  },
  {
    is: 'jars by number destroyed as a dispatch after the pouring leave the splinters in the other pack',
    pack: broken,
    after: [
      pouredFrom('2026-03-21T13:00'),
      record('dispatches', {
        lot: pack,
        jars: 'jars 3-7',
        sentAt: afterPouring,
        to: 'thrown out',
        kind: 'destroyed',
      }),
    ],
    lot: '26077A-2',
    state: 'held',
    rule: 'glass-poured-in',
  },
];

const fiveReturned = (sentAt: string): Step =>
  send('5', { kind: 'returned', sentAt, sealed: '5', keptHow: 'cold', by: 'JP' });
const failedInFridge = { sealsFailed: '3', sealsOutcome: 'in the fridge, used at home' };

/** More jars sent or returned than there can be. */
const contradictions: readonly VerdictCase[] = [
  {
    is: 'jars returned that were never sent are no stock: selling them is selling more than were made',
    after: [fiveReturned('2026-04-09T09:00'), send('24'), send('5', { sentAt: '2026-04-12T09:00' })],
    state: 'open',
    advises: 'sent-more-than-made',
  },
  {
    is: 'jars returned before any had been sent are a deviation',
    after: [send('24'), fiveReturned('2026-04-09T09:00')],
    state: 'open',
    advises: 'returned-more-than-sent',
    says: /5 more than had been sent out/,
  },
  {
    is: 'seals counted as failed after all jars were sold hold the lot: some left without a seal',
    after: [send('24'), correct('pack', pack, failedInFridge)],
    state: 'held',
    rule: 'seals-failed',
    says: /at least 3 of them had no seal/,
  },
];

export const stockAttacks: readonly VerdictCase[] = [...pouredSplinters, ...contradictions];

export const stockSlips: readonly VerdictCase[] = [
  {
    is: 'failed seals are taken off sale, and no more than the others were sold',
    after: [send('21'), correct('pack', pack, failedInFridge)],
    state: 'open',
  },
  {
    is: 'a pack poured from jars that were inspected for splinters first',
    pack: broken,
    after: [inspected(), release('no splinters'), pouredFrom('2026-03-21T13:00')],
    lot: '26077A-2',
    state: 'open',
  },
  {
    is: 'a pack of splinters that is poured into another ends when it is recorded as poured back',
    pack: broken,
    after: [
      pouredFrom('2026-03-21T13:00', '1.5 gal'),
      inspected({ way: 'poured-back', jars: 'all', done: 'poured into the next pack' }),
      release('nothing of it is left'),
    ],
    state: 'released',
  },
];
