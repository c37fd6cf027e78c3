import { act, add, check, checks, correct, pack, record, release, density, one } from './verdict-case.js';
import { labelRemedies } from './label-ways-out.js';
import { pouredFrom } from './stock-cases.js';
import { noteRemedies } from './ways-out-of-notes.js';
import { spoilageRemedies, thrownOut } from './ways-out-of-spoilage.js';
import { consultation, measured, packedAgain, type WayOut } from './ways-out-steps.js';
import type { holdRules } from '#libs/syrup/rules/hold-rules.js';

export type HoldRule = (typeof holdRules)[number]['name'];

const unrinsed = [record('cleanings', { at: '2026-03-17T18:00', what: 'tank', with: 'bleach', wasRinsed: 'no' })];

/** Every rule that can hold a lot, with the ways out that its sentence names, the least work first. */
export const remedies: Readonly<Record<HoldRule, readonly WayOut[]>> = {
  'fill-temperature': [
    { held: { pack: one('178 F@10:20#T1 jar 24') }, out: packedAgain(), ends: 'released' },
    {
      held: { pack: one('186 F@10:05#T1 jar 12;178 F@10:20#T1 jar 24') },
      out: [act({ way: 'poured-back', jars: '13-24', done: 'poured back' }), release('the cold ones are gone')],
      ends: 'released',
    },
    { held: { pack: one('178 F@10:20#T1 jar 24') }, out: thrownOut, ends: 'released' },
  ],
  'fill-not-read': [
    { held: { pack: one('') }, out: [add('packs', pack, one('186 F#T1 jar 12;185 F#T1 jar 24'))], ends: 'open' },
    { held: { pack: one('') }, out: packedAgain(), ends: 'released' },
  ],
  'fill-perhaps-hot-enough': [
    {
      held: { checks: checks('29 F', '207.4 F'), pack: one('178 F@10:20#T1 jar 24') },
      out: [release('two others read 182 F in the jar')],
      ends: 'released',
    },
    {
      held: { checks: checks('29 F', '207.4 F'), pack: one('178 F@10:20#T1 jar 24') },
      out: packedAgain(),
      ends: 'released',
    },
  ],
  'thermometer-unreliable': [
    {
      held: { after: [check('ice', '', { at: '2026-03-25T08:00', should: '', fit: 'no' })] },
      out: [release('T2 read the same jars')],
      ends: 'released',
    },
  ],
  'readings-too-far-apart': [
    {
      held: { house: { checkEvery: '12 jars', gapsHold: 'yes' }, pack: one('186 F#T1 jar 1;186 F#T1 jar 24') },
      out: [release('the filler ran at 190 F all along')],
      ends: 'released',
    },
  ],
  'density-not-read': [
    {
      held: { pack: density('', '', '') },
      out: [add('packs', pack, density('60.4 Bx', '185 F'))],
      ends: 'open',
    },
    { held: { pack: density('', '', '') }, out: [measured, release('measured now')], ends: 'released' },
  ],
  'hydrometer-temperature': [
    {
      held: { house: { place: 'New York', hydrometerMadeFor: 'not-known' }, pack: density('66.2 Bx', '60 F') },
      out: [add('packs', pack, { densityCalibratedAt: '60 F' })],
      ends: 'open',
    },
    {
      held: { house: { place: 'New York', hydrometerMadeFor: '' }, pack: density('66.2 Bx', '60 F') },
      out: [measured, release('measured again')],
      ends: 'released',
    },
  ],
  'density-too-thin': [
    {
      held: { pack: density('64 Bx', '60 F') },
      out: packedAgain({ hotPackTemp: '218 F', ...density('60.6 Bx', '185 F') }),
      ends: 'released',
    },
    { held: { pack: density('64 Bx', '60 F') }, out: thrownOut, ends: 'released' },
  ],
  'density-measure-again': [
    {
      held: { pack: density('66.7 Bx', '68 F', 'refractometer') },
      out: [measured, release('measured again')],
      ends: 'released',
    },
    {
      held: {
        before: [
          record('instruments', { id: 'H1', what: 'hydrometer', at: '2026-03-01T09:00' }),
          record('instruments', { id: 'H2', what: 'hydrometer', at: '2026-03-01T09:00' }),
          record('checks', { instrument: 'H1', at: '2026-03-10T08:00', how: 'reference', fit: 'no' }),
        ],
        pack: { instruments: 'H1' },
      },
      out: [
        act({
          jars: 'all',
          found: 'H1 reads wrong',
          done: 'measured with H2',
          instruments: 'H2',
          ...density('67.4 Bx', '60 F'),
        }),
        release('H2 reads enough'),
      ],
      ends: 'released',
    },
  ],
  'density-too-thick': [
    {
      held: { pack: density('69.5 Bx', '60 F') },
      out: packedAgain({ hotPackTemp: '215 F', ...density('67.4 Bx', '60 F') }),
      ends: 'released',
    },
  ],
  'seals-failed': [
    {
      held: { pack: { sealsFailed: '2' } },
      out: [add('packs', pack, { sealsOutcome: 'refrigerated, used at home' })],
      ends: 'open',
    },
    {
      held: { pack: { sealsFailed: '24', sealsOutcome: 'refrigerated' } },
      out: packedAgain({ sealsFailed: '0' }),
      ends: 'released',
    },
  ],
  'broken-glass': [
    {
      held: { pack: { brokenGlass: '14' } },
      out: [act({ way: 'inspected', jars: '12-16', found: 'glass', done: 'looked into' }), release('no splinters')],
      ends: 'released',
    },
    {
      held: { pack: { brokenGlass: '14' } },
      out: [act({ way: 'destroyed', jars: '12-16', found: 'glass', done: 'thrown out' }), release('they are gone')],
      ends: 'released',
    },
  ],
  'glass-poured-in': [
    {
      held: { pack: { brokenGlass: '5' }, after: [pouredFrom('2026-03-21T13:00')], lot: '26077A-2' },
      out: [release('filtered, packed again and inspected', '26077A-2')],
      ends: 'released',
    },
  ],
  'off-flavour': [
    {
      held: { pack: { offFlavour: 'buddy' } },
      out: [
        act({
          jars: 'all',
          way: 'inspected',
          found: 'buddy',
          done: 'tasted again',
          cause: 'a cold',
          offFlavour: 'none',
        }),
        release('three of us tasted none'),
      ],
      ends: 'released',
    },
    { held: { pack: { offFlavour: 'buddy' } }, out: thrownOut, ends: 'released' },
  ],
  cloudy: [
    {
      held: { pack: { clarity: 'cloudy' } },
      out: packedAgain({ clarity: 'clear', way: 'filtered-again' }),
      ends: 'released',
    },
  ],
  'processing-below-5-gal': [
    { held: { pack: { colourClass: 'processing', transmittance: '' } }, out: thrownOut, ends: 'released' },
  ],
  'defoamer-allergens': [
    {
      held: { boil: { defoamer: 'powder from the dealer' } },
      out: [add('boils', '26077A', { defoamerAllergens: 'none' })],
      ends: 'open',
    },
  ],
  'allergen-contradiction': [
    {
      held: { boil: { defoamer: 'butter', defoamerAllergens: 'none' } },
      out: [correct('boil', '26077A', { defoamerAllergens: 'milk' }), release('labels print milk')],
      ends: 'released',
    },
    {
      held: { boil: { defoamer: 'butter', defoamerAllergens: 'none' } },
      out: [correct('boil', '26077A', { defoamer: 'sunflower oil' }), release('it was the oil')],
      ends: 'released',
    },
  ],
  'more-in-jars-than-drawn': [
    {
      held: { pack: { fromLots: '26077A:1.2 gal' } },
      out: [correct('pack', pack, { fromLots: '26077A:1.5 gal' }), release('measured in the kettle')],
      ends: 'released',
    },
  ],
  'more-sugar-than-came-in': [
    {
      held: { boil: { syrupVolume: '4 gal' }, lot: '26077A' },
      out: [release('a second tank was not written', '26077A')],
      ends: 'released',
    },
    {
      held: { boil: { syrupVolume: '4 gal' }, lot: '26077A' },
      out: [correct('boil', '26077A', { syrupVolume: '3 gal' }), release('the 4 was a 3', '26077A')],
      ends: 'released',
    },
  ],
  ...spoilageRemedies,
  ...noteRemedies,
  'equipment-question': [
    { held: { before: unrinsed }, out: [release('the tank was not used', '26077A')], ends: 'released' },
  ],
  'sap-question': [
    { held: { gathering: { condition: 'sour' }, lot: '26077A' }, out: [release('sound', '26077A')], ends: 'released' },
  ],
  'lead-over-limit': [
    {
      held: { after: [record('lead-tests', { at: '2026-03-25T09:00', lot: pack, lead: '900 ppb' })] },
      out: [
        record('lead-tests', { at: '2026-04-02T09:00', lot: pack, lead: '90 ppb' }),
        release('the first sample was of the drain', pack, consultation),
      ],
      ends: 'released',
    },
    {
      held: { after: [record('lead-tests', { at: '2026-03-25T09:00', lot: pack, lead: '900 ppb' })] },
      out: [release('asked first', pack, consultation)],
      ends: 'released',
    },
    {
      held: { after: [record('lead-tests', { at: '2026-03-25T09:00', lot: pack, lead: '900 ppb' })] },
      out: thrownOut,
      ends: 'released',
    },
  ],
  'outside-these-rules': [
    { held: { pack: { product: 'cream' } }, out: [release('asked first', pack, consultation)], ends: 'released' },
    { held: { pack: { product: 'cream' } }, out: thrownOut, ends: 'released' },
  ],
  ...labelRemedies,
  'held-upstream': [
    {
      held: { after: [{ mark: 'hold', lot: '26077A', fields: { why: 'a lid' } }] },
      out: [release('it was another', '26077A')],
      ends: 'released',
    },
  ],
};
