import { act, add, check, checks, correct, pack, record, release, send, type Step, one } from './verdict-case.js';
import type { VerdictCase } from './verdict-case.js';

const cold = 'fill-temperature';
const thermometer = (id: string): Step => record('instruments', { id, what: 'thermometer', at: '2026-03-01T09:00' });
const reference = (should: string, reads: string): Step =>
  record('checks', { instrument: 'T1', at: '2026-03-17T08:00', how: 'reference', should, reads });
const halfCold = one('186 F#T1 jar 12;178 F#T1 jar 24');
const halfColdAt = one('186 F@10:05#T1 jar 12;178 F@10:25#T1 jar 24');
const allCold = one('178 F@10:05#T1 jar 12;177 F@10:25#T1 jar 24');

/** Instruments and readings: each lot was open, or could be opened, when its case was first tried. */
export const heatAttacks: readonly VerdictCase[] = [
  {
    is: 'a cold reading of a jar that the pack doesn’t have holds all of it',
    pack: one('186 F#T1 jar 12;185 F#T1 jar 24;172 F#T1 jar 30'),
    state: 'held',
    rule: cold,
  },
  {
    is: 'a pack made smaller by correction keeps the cold jar that is no longer in it',
    pack: halfCold,
    after: [correct('pack', pack, { jars: '12' }), release('there were only 12')],
    state: 'held',
    rule: cold,
    refuses: /stays held/,
  },
  {
    is: '“not adjusted” after a bad check is no adjustment',
    checks: [check('ice', '32 F'), check('boiling-water', '213.4 F', { done: 'not adjusted, no time' })],
    pack: one('182 F#T1 jar 12;182 F#T1 jar 24'),
    after: [check('boiling-water', '210.4 F', { at: '2026-03-25T08:00' })],
    state: 'held',
  },
  {
    is: '“needs calibrating” doesn’t explain a jump of 6 °F',
    checks: [check('ice', '32 F', { done: 'needs calibrating' }), check('boiling-water', '210.4 F')],
    after: [check('ice', '26 F', { at: '2026-03-25T08:00' })],
    state: 'held',
    rule: 'thermometer-unreliable',
  },
  {
    is: 'a thermometer adjusted and never checked again keeps its correction',
    checks: [check('ice', '32 F'), check('boiling-water', '213.4 F', { done: 'adjusted' })],
    pack: one('182 F#T1 jar 12;182 F#T1 jar 24'),
    state: 'held',
    rule: cold,
  },
  ...['T01', 't-1'].map((id): VerdictCase => ({
    is: `a reading by ${id} is T1’s, which reads 3 °F high`,
    checks: checks('35 F', '213.4 F'),
    pack: one(`181 F#${id} jar 24`),
    state: 'held',
    rule: cold,
  })),
  {
    is: '“not thrown away yet” leaves a thermometer that reads high in use',
    before: [
      thermometer('T2'),
      ...checks('37 F', '215.4 F', { instrument: 'T2', at: '2026-03-02T09:00', done: 'not thrown away yet' }),
    ],
    pack: one('183 F jar 12;183 F jar 24'),
    state: 'held',
  },
  {
    is: '82 °C by a thermometer that reads 1 °C high is too cold',
    checks: checks('1 C', '100.1 C'),
    pack: one('82 C#T1 jar 24'),
    state: 'held',
    rule: cold,
  },
  {
    is: 'a reference at 180 °F that reads 185 °F counts at the temperature of the jars',
    checks: [reference('180 F', '185 F')],
    pack: one('184 F#T1 jar 24'),
    state: 'held',
    rule: cold,
  },
  {
    is: 'right in the morning and 3 °F high in the evening, a thermometer holds what it read between',
    checks: [
      ...checks('32 F', '210.4 F', { at: '2026-03-19T07:00' }),
      ...checks('35 F', '213.4 F', { at: '2026-03-19T20:00' }),
    ],
    pack: one('182 F@10:05#T1 jar 12;182 F@10:25#T1 jar 24'),
    state: 'held',
  },
  {
    is: 'of two thermometers the bad one holds only what it read',
    before: [thermometer('T2'), ...checks('37 F', '215.4 F', { instrument: 'T2' })],
    pack: one('186 F#T1 jar 8;183 F#T2 jar 16;186 F#T1 jar 24'),
    state: 'held',
    rule: cold,
    jars: [[9, 23]],
  },
  {
    is: 'a hold based on elevation asks for the day’s pressure',
    house: { elevation: '1400 ft' },
    checks: [check('boiling-water', '211.4 F', { should: '' })],
    pack: one('181 F#T1 jar 24'),
    state: 'held',
    rule: cold,
    says: /pressure/,
  },
  {
    is: 'a lot released as perhaps hot enough is held by a later check',
    checks: checks('29 F', '207.4 F'),
    pack: one('178 F#T1 jar 24'),
    after: [release('two others read 182 F'), check('boiling-water', '211.4 F', { at: '2026-03-25T08:00' })],
    state: 'held',
  },
  {
    is: 'a warm reading added beside a cold one frees no jar by itself',
    pack: one('178 F#T1 jar 24'),
    after: [add('packs', pack, one('188 F#T1 jar 23')), send('12')],
    state: 'held',
    refuses: /held/,
  },
  {
    is: '“poured back” added days later opens nothing without a release',
    pack: halfColdAt,
    after: [add('packs', pack, one('178 F@10:25#T1 jar 24 poured back;187 F@10:40#T1 jar 24'))],
    state: 'held',
  },
  {
    is: 'readings from before the cold ones don’t count for jars packed again',
    pack: allCold,
    after: [act({ jars: '1-24', fillTemps: '188 F@09:50#T1 jar 12;187 F@09:55#T1 jar 24' })],
    state: 'held',
    refuses: /when it was read at first/,
  },
  {
    is: 'a cold jar that an action reads and doesn’t name is held too',
    pack: halfCold,
    after: [act({ jars: '13-24', fillTemps: '188 F#T1 jar 24;176 F#T1 jar 5' })],
    state: 'held',
    rule: cold,
  },
  {
    is: 'three corrections of one cold reading leave the lot held',
    pack: one('178 F#T1 jar 24'),
    after: ['187', '178', '188'].map((degrees) => correct('pack', pack, one(`${degrees} F#T1 jar 24`))),
    state: 'held',
  },
  {
    is: 'jars that were not destroyed after all are cold again',
    pack: halfCold,
    after: [
      act({ id: 'AC1', jars: '13-24', way: 'destroyed', done: 'poured out' }),
      release('gone'),
      correct('action', 'AC1', { way: 'other' }),
    ],
    state: 'held',
    rule: cold,
  },
  {
    is: 'an action corrected to fewer jars holds the others again',
    pack: halfCold,
    after: [
      act({ id: 'AC1', jars: '13-24', way: 'destroyed', done: 'poured out' }),
      release('gone'),
      correct('action', 'AC1', { jars: '20-24' }),
    ],
    state: 'held',
    rule: cold,
    jars: [[13, 19]],
  },
  {
    is: 'syrup boiled after its density was read needs a new reading',
    pack: one('178 F#T1 jar 24'),
    after: [
      act({ jars: 'all', hotPackTemp: '218 F', fillTemps: '188 F#T1 jar 12;187 F#T1 jar 24' }),
      release('filled again'),
    ],
    state: 'held',
    rule: 'density-not-read',
    refuses: /stays held/,
  },
];

/** Evenings that may not hold a lot. */
export const heatSlips: readonly VerdictCase[] = [
  {
    is: 'a thermometer adjusted after a bad check and right ever since',
    checks: [check('ice', '32 F'), check('boiling-water', '213.4 F', { done: 'adjusted by its nut' })],
    pack: one('182 F#T1 jar 12;182 F#T1 jar 24'),
    after: [check('boiling-water', '210.4 F', { at: '2026-03-25T08:00' })],
    state: 'open',
  },
  {
    is: '5 °F high in ice and right at 180 °F by a reference',
    checks: [check('ice', '37 F'), reference('180 F', '180 F')],
    pack: one('182 F#T1 jar 12;182 F#T1 jar 24'),
    state: 'open',
  },
  {
    is: 'two checks of one day, both right within a degree',
    checks: [
      ...checks('32 F', '210.4 F', { at: '2026-03-19T07:00' }),
      ...checks('32.5 F', '211 F', { at: '2026-03-19T20:00' }),
    ],
    state: 'open',
  },
  {
    is: 'a thermometer that was thrown away doesn’t affect later readings',
    before: [
      thermometer('T2'),
      ...checks('37 F', '215.4 F', { instrument: 'T2', at: '2026-03-02T09:00', done: 'thrown away' }),
    ],
    pack: one('183 F jar 12;183 F jar 24'),
    state: 'open',
  },
  {
    is: 'a check with the day’s pressure clears what elevation alone had held',
    house: { elevation: '1400 ft' },
    checks: [check('boiling-water', '211.4 F', { should: '' })],
    pack: one('181 F#T1 jar 12;181 F#T1 jar 24'),
    after: [check('boiling-water', '211.4 F', { should: '', pressure: '29.5 inHg', at: '2026-03-20T08:00' })],
    state: 'open',
  },
  {
    is: 'spans of jars in capitals and with “to”',
    pack: one('186 F#T1 Jars 1 - 12;185 F#T1 JARS 13 to 24'),
    state: 'open',
  },
  {
    is: 'jars filled past midnight',
    pack: { packedAt: '2026-03-19T23:30', fillTemps: '186 F@23:40#T1 jar 12;185 F@00:20#T1 jar 24' },
    state: 'open',
  },
  {
    is: 'an action whose cause was added later, released',
    pack: allCold,
    after: [
      act({ id: 'AC1', jars: '1-24', cause: '', fillTemps: '188 F#T1 jar 12;187 F#T1 jar 24' }),
      add('actions', 'AC1', { cause: 'cold-jar' }),
      release('filled again'),
    ],
    state: 'released',
  },
  {
    is: 'a mistake corrected twice and released',
    pack: one('178 F#T1 jar 24'),
    after: [
      correct('pack', pack, one('187 F#T1 jar 24')),
      correct('pack', pack, { note: 'labels' }),
      release('the sheet says 187'),
    ],
    state: 'released',
  },
];
