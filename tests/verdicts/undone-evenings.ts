import { another, check, record, type Step, type Texts } from './verdict-case.js';

export const cold: Texts = { fillTemps: '178 F#T1 jar 12;177 F#T1 jar 24' };
export const halfCold: Texts = { fillTemps: '186 F#T1 jar 12;178 F#T1 jar 24' };
export const packedAgain = { jars: 'all', fillTemps: '188 F#T1 jar 12;187 F#T1 jar 24', sealsFailed: '0' };
export const foundHigh = (more: Texts = {}): Step[] => [
  check('ice', '38 F', { id: 'CKI', at: '2026-03-20T08:00', ...more }),
  check('boiling-water', '216.4 F', { id: 'CKB', at: '2026-03-20T08:00', ...more }),
];
/** A boil of the day before, 26076A, of which half a gallon is in the pack or the boil. */
export const earlierBoil = another('boil', {
  beganAt: '2026-03-17T07:30',
  finishedAt: '2026-03-17T19:00',
  gatherings: '',
  restedFrom: '',
  restedUntil: '',
});
export const blended: Texts = { lot: '26078X-1', fromLots: '26076A:0.5 gal;26077A:1.5 gal' };
export const bought = record('receipts', {
  id: 'R01',
  supplier: 'a neighbour on Bracken Lane',
  contact: '14 Bracken Lane',
  volume: '5 gal',
  density: '66.9 Bx',
  receivedAt: '2026-03-15T10:00',
  by: 'OE',
});
