import {
  add,
  check,
  checks,
  complaint,
  correct,
  pack,
  record,
  send,
  type Texts,
  type VerdictCase,
} from './verdict-case.js';

const density = (reading: string, at: string, by = 'hydrometer'): Texts => ({
  densityReading: reading,
  densityAt: at,
  densityBy: by,
});

const one = (reading: string): Texts => ({ fillTemps: reading });

const open = (is: string, of: Omit<VerdictCase, 'is' | 'state'>): VerdictCase => ({ is, state: 'open', ...of });

/** Ordinary evenings and a family’s ordinary slips: none may hold a lot, or the hold can be cleared. */
export const soundCases: readonly VerdictCase[] = [
  open('an ordinary pack is open', {}),
  open('180 °F passes', { pack: one('180 F#T1 jar 24') }),
  open('82 °C passes', { pack: one('82 C#T1 jar 24') }),
  open('85.5 °C passes in a Fahrenheit book', { pack: one('85.5 C#T1 jar 12;84 C#T1 jar 24') }),
  open('a thermometer 3 °F low in ice and right at the boil is no reason to hold', {
    checks: checks('29 F', '210.4 F'),
    advises: 'thermometer-read-low',
  }),
  open('a thermometer 3 °F low everywhere is no reason to hold', { checks: checks('29 F', '207.4 F') }),
  open('a thermometer 1 °F high reads 184 °F and more', { checks: checks('33 F', '211.4 F') }),
  open('a thermometer 4 °F high that read 190 °F and more is no reason to hold', {
    checks: checks('36 F', '214.4 F'),
    pack: one('192 F#T1 jar 12;190 F#T1 jar 24'),
  }),
  open('a thermometer never checked advises', { checks: [], advises: 'thermometer-not-checked' }),
  open('181 °F by one never checked advises to check it', {
    checks: [],
    pack: one('181 F#T1 jar 24'),
    advises: 'thermometer-near-limit',
  }),
  open('readings without numbers or times are taken', { pack: one('188 F;186 F;185 F') }),
  open('one reading for the pack advises about the rest', { pack: one('186 F#T1 jar 1'), advises: 'jars-not-covered' }),
  open('a reading without a thermometer is taken where the only one is right', { pack: one('184 F jar 24') }),
  open('a pack written down six weeks late is taken', {}),
  open('205 °F in the jar advises to filter again', { pack: one('205 F#T1 jar 24'), advises: 'too-hot-at-filling' }),
  open('the kettle’s temperature may be blank', { pack: { hotPackTemp: '' } }),
  open('a check typed without what it should read counts for ice', { checks: [check('ice', '32 F', { should: '' })] }),
  open('a good check after the season changes nothing', {
    after: checks('32 F', '210.4 F', { at: '2026-04-25T08:00' }),
  }),
  open('a check of a thermometer that read nothing of the pack holds nothing', {
    after: checks('40 F', '219 F', { instrument: 'T9', at: '2026-03-25T08:00' }),
  }),
  open('two failed seals that were kept in the cold are no reason to hold', {
    pack: { sealsFailed: '2', sealsOutcome: 'refrigerated, used at home' },
  }),
  open('a failed seal destroyed is no reason to hold', { pack: { sealsFailed: '1', sealsOutcome: 'destroyed' } }),
  open('failed seals packed again are no reason to hold', {
    pack: { sealsFailed: '3', sealsOutcome: 'reheated and packed again' },
  }),
  open('seals not checked yet advise', { pack: { sealsFailed: '' }, advises: 'seals-not-checked' }),
  open('sunflower oil has no allergen', { boil: { defoamer: 'sunflower oil', defoamerAllergens: 'none' } }),
  open('canola oil has no allergen', { boil: { defoamer: 'canola oil', defoamerAllergens: 'none' } }),
  open('coconut oil is no nut oil here', { boil: { defoamer: 'coconut oil', defoamerAllergens: 'none' } }),
  open('nutmeg is no nut', { boil: { defoamer: 'organic powder, nutmeg-free', defoamerAllergens: 'none' } }),
  open('butter with milk is answered', { boil: { defoamer: 'butter', defoamerAllergens: 'milk' } }),
  open('cream with milk is answered', { boil: { defoamer: 'cream', defoamerAllergens: 'milk' } }),
  open('beurre avec lait is answered', { boil: { defoamer: 'beurre', defoamerAllergens: 'lait' } }),
  open('peanut oil with peanut is answered', { boil: { defoamer: 'peanut oil', defoamerAllergens: 'peanuts' } }),
  open('no defoamer needs no answer', { boil: { defoamer: 'none' } }),
  open('a blank defoamer is not recorded and holds nothing', { boil: { defoamer: '' } }),
  open('product “pure maple syrup” is syrup', { pack: { product: 'pure maple syrup' } }),
  ...[
    'ran out of gas on the way home',
    'the label came off',
    'no mould, only crystals at the bottom',
    'sans moisissure, le bouchon colle',
    'used it in a candy mold, lovely',
    'darker than last year',
    'aucune moisissure',
  ].map((formatted) => open(`“${formatted}” holds nothing`, { after: [complaint(formatted)] })),
  open('mould in a jar opened and kept warm advises', {
    after: [complaint('mould on top', { mould: 'yes', came: 'opened-warm' })],
  }),
  open('“no” to the question about mould opens the lot without a release', {
    after: [
      record('complaints', { id: 'CO1', lot: pack, at: '2026-04-20T10:00', said: 'is that mould?' }),
      add('complaints', 'CO1', { mould: 'no' }),
    ],
  }),
  open('mould answered no with the words at once holds nothing', {
    after: [complaint('thought it was mould', { mould: 'no' })],
  }),
  open('“bright, no sediment” is clear', { pack: { clarity: 'bright, no sediment' } }),
  open('clarity not looked at holds nothing', { pack: { clarity: '' } }),
  open('flavour not tasted holds nothing', { pack: { offFlavour: '' } }),
  open('“aucun” off flavour is none', { pack: { offFlavour: 'aucun' } }),
  open('a colour typed against the meter advises', { pack: { colourClass: 'Dark' }, advises: 'colour-conflict' }),
  open('no colour holds nothing', { pack: { transmittance: '' } }),
  open('two hours of rest advise', { boil: { restedUntil: '2026-03-18T22:00' }, advises: 'short-rest' }),
  open('no rest written down holds nothing', { boil: { restedFrom: '', restedUntil: '' } }),
  open('a filter temperature that was not read advises', { boil: { filterTemp: '' }, advises: 'filter-temperature' }),
  open('much syrup from sap whose sugar nobody read is not judged', {
    gathering: { sugar: '' },
    boil: { syrupVolume: '5 gal' },
  }),
  open('a fifth more sugar than came in is within measuring', { boil: { syrupVolume: '3.4 gal' } }),
  open('sap of 22 °Bx is asked and holds nothing', {
    gathering: { sugar: '22 Bx', volume: '12 gal' },
    boil: { gatherings: 'G001:12 gal' },
  }),
  open('a boil with no sap written down holds nothing', { boil: { gatherings: '' } }),
  open('a boil written without its end holds nothing', { boil: { finishedAt: '' } }),
  open('sap by the default path, all of it, is taken', { boil: { gatherings: 'G001' } }),
  open('60.4 °Bx at 185 °F is what the chart asks', { pack: density('60.4 Bx', '185 F') }),
  open('59.0 °Bx at 209 °F is what the chart asks', { pack: density('59.0 Bx', '209 F') }),
  open('63.8 °Bx at 120 °F is what the chart asks', { pack: density('63.8 Bx', '120 F') }),
  open('61.8 °Bx at 158 °F is what the chart asks', { pack: density('61.8 Bx', '158 F') }),
  open('60.2 °Bx at 189 °F is between two rows of the chart', { pack: density('60.2 Bx', '189 F') }),
  open('32.75 °Bé at 185 °F is what the chart asks', { pack: density('32.75 Be', '185 F') }),
  open('36 °Bé at 60 °F is what the place asks', { pack: density('36 Be', '60 F') }),
  open('58.9 °Bx at 211 °F follows the chart’s slope', { pack: density('58.9 Bx', '211 F') }),
  open('67.4 °Bx at 60 °F passes', { pack: density('67.4 Bx', '60 F') }),
  open('66.9 °Bx by a compensating refractometer passes', { pack: density('66.9 Bx', '70 F', 'refractometer-atc') }),
  open('67.2 °Bx by refractometer at 68 °F passes', { pack: density('67.2 Bx', '68 F', 'refractometer') }),
  open('68.9 °Bx at 60 °F is the most', { pack: density('68.9 Bx', '60 F') }),
  open('66.5 °Bx in New Hampshire, whose 66.9 nobody read, is open', {
    house: { place: 'New Hampshire' },
    pack: density('66.5 Bx', '60 F'),
    advises: 'density-unconfirmed-limit',
  }),
  open('cold plastic jugs hold nothing', {
    pack: { container: 'plastic jug 32 fl oz', jars: '6', containerPrep: '', fillTemps: '190 F#T1 jar 6' },
  }),
  open('cold glass advises', { pack: { containerPrep: '' }, advises: 'not-preheated' }),
  open('processing grade in a pail of 5 gal holds nothing', {
    boil: { syrupVolume: '3 gal' },
    pack: {
      container: 'pail 5 gal',
      jars: '1',
      fromLots: '26077A:5 gal',
      fillTemps: '186 F#T1 jar 1',
      colourClass: 'processing',
      transmittance: '',
      containerPrep: '',
    },
  }),
  open('4 % more in the jars than was drawn is measuring', { pack: { fromLots: '26077A:1.45 gal' } }),
  open('a cold jar caught at once, poured back and filled again holds nothing', {
    pack: one('186 F@10:05#T1 jar 12;178 F@10:15#T1 jar 24;178 F@10:15#T1 jar 24 poured back;187 F@10:25#T1 jar 24'),
  }),
  open('density read later opens the lot', {
    pack: { densityReading: '', densityAt: '', densityBy: '' },
    after: [add('packs', pack, density('60.4 Bx', '185 F'))],
  }),
  open('fill temperatures copied later open the lot', {
    pack: one(''),
    after: [add('packs', pack, one('186 F#T1 jar 12;185 F#T1 jar 24'))],
  }),
  open('seals checked later are sold', {
    pack: { sealsFailed: '' },
    after: [add('packs', pack, { sealsFailed: '0' }), send('6')],
  }),
  open('allergens answered later open the lot', {
    boil: { defoamer: 'powder from the dealer' },
    after: [add('boils', '26077A', { defoamerAllergens: 'none' })],
  }),
  open('a typing slip corrected in the note changes nothing', {
    pack: { note: 'labls' },
    after: [correct('pack', pack, { note: 'labels' })],
  }),
];
