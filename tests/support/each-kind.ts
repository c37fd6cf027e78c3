import type { RecordKind } from '#libs/records/record-types.js';

/**
 * A record of every kind with its required fields and one field to correct, in the book of `aSeasonBegun` with sap G800
 * and dispatch S800 of jars that had left.
 */
export const eachKind: Readonly<
  Record<RecordKind, { readonly sent: Readonly<Record<string, string>>; readonly correct: readonly [string, string] }>
> = {
  gathering: {
    sent: { id: 'G900', gatheredAt: '2026-03-20T16:00', source: 'lower lines', volume: '40 gal' },
    correct: ['source', 'upper lines'],
  },
  receipt: {
    sent: {
      id: 'R900',
      supplier: 'Bracken Lane Sugarbush',
      contact: 'Bracken Lane',
      volume: '5 gal',
      receivedAt: '2026-03-20T09:00',
    },
    correct: ['theirLot', 'BL-12'],
  },
  boil: {
    sent: { beganAt: '2026-03-21T07:30', sapVolume: '40 gal', syrupVolume: '1 gal', by: 'JP' },
    correct: ['note', 'windy'],
  },
  line: { sent: { lot: '26077A', at: '2026-03-18T14:05', temperature: '214.5 F' }, correct: ['pan', 'finish pan'] },
  draw: {
    sent: { id: 'D900', boil: '26077A', drawnAt: '2026-03-18T15:05', volume: '1 qt' },
    correct: ['vessel', 'can 2'],
  },
  pack: {
    sent: {
      fromLots: '26077A:8 fl oz',
      packedAt: '2026-03-20T10:00',
      container: 'glass jar 8 fl oz',
      jars: '1',
      by: 'JP',
    },
    correct: ['note', 'the last jar'],
  },
  dispatch: {
    sent: { lot: '26077A-1', jars: '2', sentAt: '2026-04-11T09:00', to: 'Millrace Green' },
    correct: ['contact', 'stall 4'],
  },
  'recall-call': { sent: { lot: '26077A-1', to: 'Millrace Green' }, correct: ['spokeTo', 'June Pascoe'] },
  acknowledgement: { sent: { dispatch: 'S800' }, correct: ['note', 'called the stall'] },
  verification: { sent: { lot: '26077A-1' }, correct: ['note', 'the fill sheet'] },
  count: { sent: { id: 'C900', lot: '26077A-1', jars: '40', countedAt: '2026-04-20T18:00' }, correct: ['jars', '41'] },
  spent: { sent: { lot: 'G800', how: 'spilt', volume: '1 gal' }, correct: ['why', 'a bucket fell'] },
  action: {
    sent: { lot: '26077A-1', found: 'a cloudy jar', done: 'filtered again' },
    correct: ['found', 'two cloudy'],
  },
  labels: { sent: { lot: '26077A-1', from: '1', to: '2' }, correct: ['note', 'the second sheet'] },
  stock: {
    sent: {
      id: 'own-12-up-60x40',
      pageWidth: '215.9 mm',
      pageHeight: '279.4 mm',
      labelWidth: '60 mm',
      labelHeight: '40 mm',
      left: '10 mm',
      top: '12.5 mm',
      columns: '3',
      rows: '6',
    },
    correct: ['note', 'from Millrace Green'],
  },
  instrument: { sent: { id: 'T9', what: 'thermometer' }, correct: ['made', 'dial, 8 in stem'] },
  check: { sent: { instrument: 'T1', how: 'ice', should: '32 F', reads: '32.4 F' }, correct: ['reads', '32.6 F'] },
  equipment: { sent: { id: 'PAN9', what: 'finish pan' }, correct: ['material', 'stainless'] },
  cleaning: { sent: { what: 'finish pan', with: 'unscented bleach' }, correct: ['strength', '1 to 20'] },
  filter: { sent: { what: 'wool cone 2' }, correct: ['washed', 'hot water only'] },
  supply: { sent: { what: 'half-pint jars', supplier: 'Notch Glass' }, correct: ['howMany', '144'] },
  'water-test': { sent: { source: 'house well', result: 'no coliform found' }, correct: ['laboratory', 'Notch Water'] },
  complaint: { sent: { lot: '26077A-1', said: 'delicious' }, correct: ['from', 'a buyer at Millrace Green'] },
  'lead-test': { sent: { equipment: 'PAN9', lead: '40 ppb' }, correct: ['laboratory', 'Notch Water'] },
  answer: {
    sent: { lot: '26077A-1', question: 'complaint C1 says “fuzzy”', answer: 'no' },
    correct: ['note', 'looked at it'],
  },
  training: { sent: { who: 'OE', what: 'hot filling' }, correct: ['note', 'half a day'] },
  licence: { sent: { what: 'producer licence', number: '17' }, correct: ['until', '2026-12-31'] },
  'practice-recall': { sent: { lot: '26077A-1' }, correct: ['result', 'all found'] },
  season: { sent: { year: '2026', signed: 'Wren Ellery' }, correct: ['missing', 'nothing'] },
  house: { sent: {}, correct: ['phone', '802 555 0100'] },
};
