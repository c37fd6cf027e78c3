import type { HouseBody } from '#libs/records/kinds/house.js';
import { home, houseNamed, housesOf } from '#libs/store/household/houses.js';
import { choice, day, signature, optional, moment, required, withDefault, text, freeText } from '../record/fields.js';
import { kind } from '../record/kind.js';
import { type Fault, isRefusal } from '../record/problem.js';
import { placeExpected, placeRules } from '../places/places.js';
import { elevation } from '../calculators/calculator.js';
import { isZone, momentIn } from '../record/times.js';
import { parseCheckInterval } from '#libs/syrup/quantities/check-interval.js';
import { hydrometerAnswers, parseHydrometerAnswer } from '#libs/syrup/instruments/hydrometer-temperature.js';
import { type DesignName, designLabels } from '#libs/labels/content/label.js';
import { type ColourName, labelColours, type TypefaceName, typefaceLabels } from '#libs/labels/content/label-look.js';
import type { FederalLicence } from '#libs/syrup/rules/grade-statement.js';
import type { Parsed } from '#libs/syrup/quantities/quantities.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const place = (typed: string): Parsed<string> => {
  const rules = placeRules(typed);
  return isRefusal(rules) ? { mismatch: { expected: placeExpected, got: `"${typed}"` } } : { value: typed };
};
const zone = (typed: string): Parsed<string> =>
  isZone(typed)
    ? { value: typed }
    : { mismatch: { expected: 'a time zone by its IANA name, like America/New_York', got: `"${typed}"` } };
const address = (typed: string): Parsed<string> =>
  /^https?:\/\/[^\s/?#]+[^\s?#]*$/i.test(typed)
    ? { value: typed.replace(/\/+$/, '') }
    : { mismatch: { expected: 'a web address like https://jars.example', got: `"${typed}"` } };

const prefix = (typed: string): Parsed<string> =>
  /^[A-Z0-9]{1,4}$/i.test(typed)
    ? { value: typed.toUpperCase() }
    : { mismatch: { expected: 'one to four letters or digits, like BL', got: `"${typed}"` } };

const typefaces = Object.keys(typefaceLabels) as TypefaceName[];
const colours = Object.keys(labelColours) as ColourName[];
const layouts = Object.keys(designLabels) as DesignName[];

/** A maker who also sells elsewhere has an authority in each place: who it is, and that its number was tried. */
export const otherAuthorityFields = {
  authority2Place: freeText({ label: 'Second place you sell in', example: 'New York' }),
  authority2: freeText({ label: 'Authority of the second place', example: 'food safety office of that state' }),
  authority2Phone: freeText({ label: 'Telephone of the second authority' }),
  authority2Address: freeText({ label: 'Address of the second authority' }),
  authority2With: freeText({ label: 'Second authority confirmed by telephone with' }),
  authority2On: optional(day, { label: 'Second authority confirmed on', example: '2026-02-10' }),
  authority3Place: freeText({ label: 'Third place you sell in', example: 'Quebec' }),
  authority3: freeText({ label: 'Authority of the third place' }),
  authority3Phone: freeText({ label: 'Telephone of the third authority' }),
  authority3Address: freeText({ label: 'Address of the third authority' }),
  authority3With: freeText({ label: 'Third authority confirmed by telephone with' }),
  authority3On: optional(day, { label: 'Third authority confirmed on', example: '2026-02-10' }),
};

/** The sugarhouse: the maker's name and address on every page, label and summary, and which place's rules apply. */
export const houseFields = {
  name: required(text, { label: 'Name of the sugarhouse', example: 'Tamarack Hollow Sugarhouse' }),
  address: freeText({ label: 'Street and number', example: '12 Hollow Lane' }),
  town: freeText({ label: 'Town', example: 'Harrow Notch, Vermont' }),
  postcode: freeText({ label: 'ZIP or postal code', example: '05000' }),
  phone: freeText({ label: 'Telephone', example: '802 555 0100' }),
  email: freeText({ label: 'E-mail' }),
  place: withDefault(place, '', {
    label: 'Place whose rules apply',
    example: 'Vermont',
    hint: 'If blank, the US grade standard applies',
  }),
  zone: optional(zone, { label: 'Time zone', example: 'America/New_York' }),
  temperatures: withDefault(choice('F', 'C'), 'F', { label: 'Temperatures in', example: 'F', choices: ['F', 'C'] }),
  volumes: withDefault(choice('gal', 'L'), 'gal', { label: 'Volumes in', example: 'gal', choices: ['gal', 'L'] }),
  hydrometerMadeFor: optional(parseHydrometerAnswer, {
    label: 'What temperature is printed on your hydrometer?',
    example: '60 F',
    choices: [...hydrometerAnswers],
    hint: 'On the paper scale inside it. One made for 68 °F shows the same syrup about 0.3 °Bx thicker, so a reading without it has to pass by both. If you have several that differ, choose “not known” and record it with each reading',
  }),
  checkEvery: optional(parseCheckInterval, {
    label: 'Read a jar while filling, every',
    example: '12 jars or 15 min',
    hint: 'If blank: a tray of 12 or a quarter of an hour, common practice, no source',
  }),
  elevation: optional(elevation, {
    label: 'Elevation',
    example: '1400 ft',
    hint: 'For boiling-water checks on days without a pressure reading',
  }),
  gapsHold: withDefault(choice('yes', 'no'), 'no', {
    label: 'Hold jars between readings further apart',
    choices: ['yes', 'no'],
    hint: 'If blank, longer gaps are only an advisory and hold no lot',
  }),
  publicUrl: withDefault(address, '', {
    label: 'Address that labels carry',
    example: 'https://jars.example',
    letters: 300,
  }),
  licence: freeText({ label: 'Licence or registration', hint: 'As issued by your authority' }),
  federalLicence: optional(choice('yes', 'no'), {
    label: 'Canada: do you hold a federal food licence?',
    choices: ['yes', 'no'],
    hint: 'Only a holder may put a Canada grade name on syrup (Safe Food for Canadians Regulations s. 308). If blank or “no”, none is printed',
  }),
  federalLicenceNumber: freeText({
    label: 'Number of the federal licence',
    hint: 'Needed with yes: without it no Canada grade is printed',
  }),
  authority: freeText({
    label: 'Authority to call',
    example: 'food safety office of the state',
    hint: 'Shown on the yearly summary, on recalls and wherever a page says to ask',
  }),
  authorityPhone: freeText({ label: 'Telephone of the authority', example: '802 555 0199' }),
  authorityAddress: freeText({ label: 'Address of the authority', example: '1 Statehouse Row, Harrow Notch' }),
  authorityWith: freeText({
    label: 'Confirmed by telephone with',
    example: 'M. Roy',
    hint: 'Call the number now, so that you know it works when you need it',
  }),
  authorityOn: optional(day, { label: 'Confirmed on', example: '2026-02-10' }),
  leastDensityConfirmed: optional(choice('yes', 'no'), {
    label: 'Did the authority confirm a minimum density that the place page marks as not confirmed?',
    choices: ['yes', 'no'],
    hint: 'For example, New Hampshire’s 66.9 °Bx. “Yes” holds thinner lots, and needs whom you spoke with and when; blank or “no” makes it an advisory',
  }),
  ...otherAuthorityFields,
  labelTypeface: optional(choice(...typefaces), {
    label: 'Typeface of the name and the product',
    choices: [...typefaces],
    hint: 'Plain is Atkinson Hyperlegible, serif is Fraunces, slab is Zilla Slab',
  }),
  labelColour: optional(choice(...colours), {
    label: 'Colour, for a printer that has colour',
    choices: [...colours],
    hint: 'With a colour, your drawing prints in its own colours; with black, in black only',
  }),
  labelLayout: optional(choice(...layouts), {
    label: 'Layout of labels',
    choices: [...layouts],
    hint: 'If blank, chosen by the container: tall or squat jar, jug, tin, or lid on a round label',
  }),
  jarStory: optional(choice('yes', 'no'), {
    label: 'The jar’s public page shows where its sap ran, when and how much',
    choices: ['yes', 'no'],
    hint: 'If blank or no, it shows only what the label says',
  }),
  prefix: withDefault(prefix, '', {
    label: 'Prefix',
    example: 'BL',
    hint: 'Shown before its lot codes where several sugarhouses are listed together',
  }),
  practice: withDefault(choice('yes', 'no'), 'no', { label: 'A practice book', choices: ['yes', 'no'] }),
  by: withDefault(signature, '', { label: 'By' }),
  at: optional(moment, { label: 'When' }),
};

export const houses = kind({
  kind: 'house',
  plural: 'house',
  noun: 'house',
  fields: houseFields,
  idFields: [],
  prepare: async ({ reader, writeContext: context, houseContext, first }, { body }, before) => {
    const faults = [
      await prefixFault(reader, body.prefix),
      licenceFault(body),
      confirmedFault('authority', body.authorityWith, body.authorityOn),
      densityFault(body),
      confirmedFault('authority2', body.authority2With, body.authority2On),
      confirmedFault('authority3', body.authority3With, body.authority3On),
    ].filter((fault) => fault !== undefined);
    if (faults.length > 0) return { problem: { kind: 'invalid', faults } };
    const zone = body.zone ?? houseContext.parseOptions.zone;
    const at = body.at ?? (before ? first.at : momentIn(zone, context.now));
    const prepared: HouseBody & { at: string; by: string } = {
      ...body,
      zone,
      practice: body.practice === 'yes',
      at,
      by: body.by || first.by,
    };
    return { id: 'house', happenedAt: at, body: prepared, about: [], judge: [], notes: [] };
  },
});

/** A licence counts only with its number: a grade name on a jar depends on it. */
export const licenceFault = ({ federalLicence, federalLicenceNumber }: FederalLicence): Fault | undefined =>
  federalLicence === 'yes' && (federalLicenceNumber ?? '').trim() === ''
    ? { field: 'federalLicenceNumber', expected: 'the number on the federal licence', got: 'nothing' }
    : undefined;

/** A confirmation needs both a name and a day. */
const confirmedFault = (which: string, confirmedWith: string, on: string | undefined): Fault | undefined => {
  if (on && confirmedWith === '') return { field: `${which}With`, expected: 'with whom you spoke', got: 'nothing' };
  return confirmedWith !== '' && !on
    ? { field: `${which}On`, expected: 'the day you spoke, like 2026-02-10', got: 'nothing' }
    : undefined;
};

/** A limit that holds lots needs who confirmed it, and when. */
const densityFault = (body: {
  readonly leastDensityConfirmed?: 'yes' | 'no' | undefined;
  readonly authorityWith: string;
}): Fault | undefined =>
  body.leastDensityConfirmed === 'yes' && body.authorityWith === ''
    ? { field: 'authorityWith', expected: 'with whom at the authority you confirmed the density', got: 'nothing' }
    : undefined;

/** The prefix of a sugarhouse’s codes: each one in a book but the first needs its own, different from the others. */
async function prefixFault({ sql, sugarhouse }: SugarhouseReader, prefix: string): Promise<Fault | undefined> {
  if (prefix === '')
    return sugarhouse === home ? undefined : { field: 'prefix', expected: 'a prefix like BL', got: 'nothing' };
  const others = (await housesOf(sql)).filter((house) => house.key !== sugarhouse);
  // A name equal to another sugarhouse's key or prefix would find that sugarhouse instead.
  const other = houseNamed(others, prefix);
  return (
    other && { field: 'prefix', expected: 'a prefix that no other house has', got: `${prefix}, used by ${other.name}` }
  );
}
