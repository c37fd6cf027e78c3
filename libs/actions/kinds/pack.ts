import { ruleTitle } from '#libs/syrup/rules/rules.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { Portion } from '#libs/records/portion.js';
import type { LotKind } from '#libs/records/record-types.js';
import { findLot } from '#libs/store/queries/lots.js';
import { syrupSources } from '#libs/store/queries/trace.js';
import { mouldAnswers } from '#libs/syrup/contents/judge-spoilage.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import { parseJarSpans } from '#libs/syrup/jars/jar-spans.js';
import {
  type BodyOf,
  choice,
  container,
  count,
  density,
  fillReadings,
  signature,
  optional,
  pastMoment,
  required,
  withDefault,
  ownId,
  percent,
  portions,
  temperature,
  freeText,
  instrumentsField,
} from '../record/fields.js';
import { kind, type PrepareContext } from '../record/kind.js';
import { nextPackCode, parseOwnCode } from '../record/lot-code.js';
import { filledSteps, preparedSteps } from './manual-steps.js';
import { jarCountFaults, packOrderFaults } from './pack-faults.js';
import { productField } from './product-field.js';
import { isOfGlass } from '../facts/glass-upstream.js';
import { packTimeNotes } from '../facts/boil-times.js';
import { unitNotes } from './pack-faults.js';
import { momentIn } from '../record/times.js';
import { allocatePortions } from '../record/references.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * The most jars in one pack: each is a database row, and all are written at once. Packs in older books may have more.
 */
const maxJars = 50_000;

/** What is usually done with jars whose seals failed; each of these takes them off sale. */
const sealOutcomes = ['refrigerated, used at home', 'poured back and packed again', 'thrown out'];

/** Syrup packed hot into jars of one kind, without a clean-down between: the lot a customer holds. */
export const packFields = {
  product: productField,
  lot: optional(ownId, { label: 'Lot code', example: '26077A-1', hint: 'Leave blank for the next one' }),
  id: optional(ownId, { label: 'Your own id', example: 'P12' }),
  fromLots: required(portions, {
    label: 'Syrup from',
    example: '26077A:3 gal',
    list: true,
    hint: 'Boils, packs poured back, or bought syrup. A blank amount means all that is left',
  }),
  packedAt: required(pastMoment, { label: 'Packed at', example: '2026-03-19T10:00' }),
  hotPackTemp: optional(temperature, {
    label: 'Syrup when packing',
    example: '190 F',
    hint: 'In the kettle or the filler',
  }),
  densityReading: optional(density, { label: 'Density read', example: '60.4 Bx', hint: 'Since the last boil-up' }),
  densityAt: optional(temperature, {
    label: 'Sample temperature',
    example: '185 F',
    hint: 'Read with the density, at the same moment',
  }),
  densityBy: optional(choice('hydrometer', 'refractometer', 'refractometer-atc'), {
    label: 'Density read with',
    example: 'hydrometer',
    choices: ['hydrometer', 'refractometer', 'refractometer-atc'],
    hint: 'A refractometer with ATC corrects for temperature itself; in files, refractometer-atc',
  }),
  densityCalibratedAt: optional(temperature, {
    label: 'Hydrometer made for',
    example: '60 F',
    hint: 'If blank, as the sugarhouse recorded of its hydrometers',
  }),
  instruments: instrumentsField,
  container: required(container, { label: 'Container', example: 'glass jar 8 fl oz' }),
  containerPrep: freeText({ label: 'How it was prepared', example: 'boiled 10 min, filled hot' }),
  benchReady: preparedSteps,
  benchFilled: filledSteps,
  thermometerCheck: optional(choice('later'), {
    label: 'Check of the thermometer',
    choices: ['later'],
    hint: '“Later” means that it was not checked that day and the check was put off',
  }),
  jars: required(count, { label: 'Jars filled', example: '48', atMost: maxJars }),
  fillTemps: withDefault(fillReadings, [] as readonly FillReading[], {
    label: 'Temperatures in the jar, when capped',
    example: '186 F@10:10',
    list: true,
    hint: '180 °F or 82 °C and more; add @14:10 for when and #T1 for which thermometer',
  }),
  brokenGlass: optional(parseJarSpans, {
    label: 'Glass broke at jar',
    example: '14',
    list: true,
    items: 60,
    hint: 'Two jars on each side are held until they are inspected; “all”, where nobody knows which jar it was, holds every jar',
  }),
  sealsFailed: optional(count, {
    label: 'Seals that failed',
    example: '0',
    hint: 'After cooling. Blank means not checked',
  }),
  sealsOutcome: freeText({
    label: 'What was done with those jars',
    example: 'refrigerated, used at home',
    suggestions: sealOutcomes,
  }),
  sealsAt: optional(pastMoment, {
    label: 'Seals counted at',
    example: '2026-03-20T09:00',
    hint: 'When the jars were cold, 12 to 24 h after filling. If blank: when the count was entered',
  }),
  transmittance: optional(percent, { label: 'Light transmittance at 560 nm', example: '61 %' }),
  colourClass: freeText({ label: 'Colour class', suggestions: ['Golden', 'Amber', 'Dark', 'Very Dark', 'Processing'] }),
  clarity: freeText({ label: 'Clear?', example: 'clear', suggestions: ['clear', 'cloudy', 'sediment'] }),
  offFlavour: freeText({
    label: 'Off flavour',
    example: 'none',
    suggestions: ['none', 'buddy', 'sour', 'burnt', 'metallic'],
  }),
  mould: optional(choice(...mouldAnswers), {
    label: 'Mould',
    choices: mouldAnswers,
    hint: 'On the syrup, at the rim, under the lid',
  }),
  by: required(signature, { label: 'By', example: 'OE' }),
  note: freeText({ label: 'Note' }),
};

/** A pack whose jars are still being filled. */
export const packUnderwayFields = { ...packFields, jars: optional(count, packFields.jars) };

type NewPack = BodyOf<typeof packUnderwayFields>;
const prepare = async (
  { reader, writeContext, houseContext }: PrepareContext,
  { body }: { body: NewPack },
  before: { readonly id: string; readonly ownId: string | undefined; readonly body: unknown } | undefined,
) => {
  const previous = before && { code: before.id, ownId: before.ownId, body: before.body as PackBody };
  const { parseOptions } = houseContext;
  const ownCode = body.lot === undefined || previous ? undefined : parseOwnCode(body.lot, 'pack', body.packedAt);
  const sources: readonly LotKind[] = ['boil', 'pack', 'receipt'];
  const allotted = await allocatePortions(reader, 'fromLots', body.fromLots, sources, previous?.code ?? '');
  const faults = [
    ...allotted.faults,
    ...(ownCode && 'expected' in ownCode ? [ownCode] : []),
    ...jarCountFaults(body, previous),
    ...(await packOrderFaults(reader, body, allotted.portions, { previous, parseOptions })),
  ];
  if (faults.length > 0) return { problem: { kind: 'invalid' as const, faults } };

  const boils = await sourceBoils(reader, allotted.portions);
  const code =
    previous?.code ??
    (ownCode && 'code' in ownCode ? ownCode.code : await nextPackCode(reader.sql, writeContext, boils, body.packedAt));
  const { lot: _lot, id: _id, ...input } = body;
  const prepared: PackBody = {
    ...input,
    fromLots: allotted.portions,
    ...sealsCountedAt(body, previous?.body, momentIn(parseOptions.zone, writeContext.now)),
  };
  return {
    id: code,
    ownId: body.id ?? previous?.ownId,
    happenedAt: body.packedAt,
    body: prepared,
    about: [code, ...(previous ? [] : allotted.portions.map((portion) => portion.lot))],
    judge: [code],
    jars: body.jars,
    notes: [
      ...(ownCode && 'code' in ownCode ? ownCode.notes : []),
      ...allotted.notes,
      ...(previous ? [] : await heldSyrupNotes(reader, allotted.portions)),
      ...foreignCodeNotes(code, boils),
      ...(await packTimeNotes(reader, { packedAt: body.packedAt, fromLots: allotted.portions })),
      ...unitNotes(body, previous),
      ...(houseContext.house ? [] : ['This book has no place set: the US grade standard applies.']),
    ],
  };
};

/**
 * When failed seals were counted, as recorded; else when the count was entered, which is the latest time that it can
 * have been made. A time without a count is ignored.
 */
export const sealsCountedAt = (
  { sealsFailed, sealsAt }: Pick<PackBody, 'sealsFailed' | 'sealsAt'>,
  before: Pick<PackBody, 'sealsFailed' | 'sealsAt'> | undefined,
  now: string,
): Pick<PackBody, 'sealsAt'> => {
  if (sealsFailed === undefined) return { sealsAt: undefined };
  if (sealsAt !== undefined) return { sealsAt };
  if (before?.sealsFailed === sealsFailed) return before.sealsAt === undefined ? {} : { sealsAt: before.sealsAt };
  return { sealsAt: now };
};

const declared = { kind: 'pack', plural: 'packs', noun: 'pack', idFields: ['lot', 'id'], prepare } as const;
export const packs = kind({ ...declared, fields: packFields });
export const packsUnderway = kind({ ...declared, fields: packUnderwayFields });

/** Notes on saving a pack of held syrup: that it is held, and whether it was heated again or contains splinters. */
async function heldSyrupNotes(reader: SugarhouseReader, portions: readonly Portion[]): Promise<string[]> {
  const notes: string[] = [];
  for (const { lot } of portions) {
    const from = await findLot(reader, lot);
    if (from?.kind !== 'pack' || from.state !== 'held') continue;
    const rules = (from.verdict?.findings ?? []).flatMap(({ stop, rule }) => (stop ? [rule] : []));
    const [rule] = rules;
    const held = `${lot} is held${rule ? `: ${ruleTitle(rule)}` : ''}.`;
    if (rules.some(isOfGlass))
      notes.push(
        `${held} Splinters stay in the syrup, and heating doesn’t remove them: this pack is held for them too.`,
      );
    if (rules.length === 0 || !rules.every(isOfGlass))
      notes.push(`${held} Was its syrup heated again? Record the temperature in the kettle.`);
  }
  return notes;
}

/** The boils that its syrup came from, also through packs poured back; bought syrup counts as a source of its own. */
async function sourceBoils(reader: SugarhouseReader, portions: readonly Portion[]): Promise<string[]> {
  const sources = new Map<string, string>();
  for (const portion of portions) {
    const from = await findLot(reader, portion.lot);
    const above = from?.kind === 'pack' ? await syrupSources(reader, portion.lot) : from ? [from] : [];
    for (const lot of above) sources.set(lot.code, lot.kind);
  }
  return [...sources.values()].every((each) => each === 'boil') ? [...sources.keys()] : ['', ''];
}

function foreignCodeNotes(code: string, boils: readonly string[]): string[] {
  const boil = /^(.*)-\d+$/.exec(code)?.[1];
  if (boil === undefined || /X$/.test(boil) || boils.includes('') || boils.includes(boil)) return [];
  return [
    `${code} begins with boil ${boil}, but its syrup came from ${boils.join(', ')}. The code stays as it was given.`,
  ];
}
