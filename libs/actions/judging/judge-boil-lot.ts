import type { BoilBody } from '#libs/records/kinds/boil.js';
import { findLot, findRecord, type Lot } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { drawnFrom } from '#libs/store/queries/trace.js';
import { judgeBoilRecord, type SapKept } from '#libs/syrup/rules/judge-boil-record.js';
import { drawnMoreThanThere } from '#libs/syrup/rules/judge-boils.js';
import { judgeLead } from '#libs/syrup/contents/judge-equipment.js';
import { judgeSap, type SapUsed } from '#libs/syrup/contents/judge-sap.js';
import { judgeSugar, type SugarInput } from '#libs/syrup/contents/judge-sugar.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import { rulesVersion } from '#libs/syrup/rules/rules.js';
import type { Finding, Verdict } from '#libs/syrup/rules/verdict.js';
import { equipmentFindings, loadLeadTests } from '../facts/equipment-facts.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The rules that judge a boil, as named in its verdict: a boil judged by older ones is judged again. */
export const boilRulesVersion = (place: PlaceRules): string =>
  `rules ${rulesVersion}; ${place.id} ${place.rulesVersion}`;

/** The verdict on a boil, from its record and that of its sap. */
export async function judgeBoilLot(where: Where, place: PlaceRules, lot: Lot): Promise<Verdict> {
  const { sql, sugarhouse } = where;
  const body = (await findRecord({ sql, sugarhouse }, 'boil', lot.code))?.body;
  return {
    findings: [
      ...(body ? await boilFindings(where, place, lot, body) : []),
      ...(await equipmentFindings(where, lot, place)),
      ...judgeLead(lot.code, await loadLeadTests(where), place),
    ],
    rules: boilRulesVersion(place),
    brix: null,
    brixUncertainty: null,
    lowestFill: null,
    colour: null,
    colourTyped: null,
    allergens: [],
  };
}

interface Where {
  readonly sql: Sql;
  readonly sugarhouse: string;
}

interface Input extends SugarInput, SapUsed {}

async function boilFindings(
  { sql, sugarhouse }: Where,
  place: PlaceRules,
  lot: Lot,
  body: BoilBody,
): Promise<Finding[]> {
  const litres = place.canada;
  const inputs: Input[] = [];
  const overdrawn: Finding[] = [];
  const sapTimes: SapKept[] = [];
  for (const { lot: code, millilitres } of body.gatherings) {
    const from = await findLot({ sql, sugarhouse }, code);
    if (!from) continue;
    const { temperature, ...sap } = await readSap({ sql, sugarhouse }, from);
    sapTimes.push({ lot: code, atMs: Date.parse(from.at), temperature });
    inputs.push({ lot: code, millilitres, ...sap });
    if (from.millilitres === undefined) continue;
    const drawnMl = await drawnFrom({ sql, sugarhouse }, code);
    overdrawn.push(...drawnMoreThanThere({ lot: code, thereMl: from.millilitres, drawnMl, litres }));
  }
  const syrupMl = body.syrupVolume?.millilitres;
  return [
    ...judgeSap(lot.code, inputs),
    ...judgeSugar({
      lot: lot.code,
      inputs,
      sapMl: body.sapVolume?.millilitres,
      sapSugar: body.sapSugar,
      sweetCarriedIn: body.carriedFrom.length > 0,
      syrupMl,
      leastBrix: minimumBrixOf(place),
      litres,
    }),
    ...overdrawn,
    ...judgeBoilRecord({
      lot: lot.code,
      beganMs: Date.parse(body.beganAt),
      finishedMs: body.finishedAt === undefined ? undefined : Date.parse(body.finishedAt),
      sugars: [
        ...(body.sapSugar ? [{ of: `boil ${lot.code}`, sugar: body.sapSugar }] : []),
        ...inputs.flatMap(({ lot: of, sugar, bought }) => (sugar && !bought ? [{ of, sugar }] : [])),
      ],
      isSapRecorded: inputs.length > 0 || body.carriedFrom.length > 0 || body.sapVolume !== undefined,
      syrupMl,
      sapAt: sapTimes,
      waterBoilsAt: body.waterBoilsAt,
      finishTemp: body.finishTemp,
    }),
  ];
}

async function readSap(
  reader: SugarhouseReader,
  { kind, code }: Lot,
): Promise<Pick<Input, 'sugar' | 'bought' | 'condition'> & Pick<SapKept, 'temperature'>> {
  if (kind === 'receipt') {
    const receipt = await findRecord(reader, 'receipt', code);
    return { sugar: receipt?.body.density, bought: true, condition: '' };
  }
  const gathering = await findRecord(reader, 'gathering', code);
  return {
    sugar: gathering?.body.sugar,
    bought: false,
    condition: gathering?.body.condition ?? '',
    temperature: gathering?.body.temperature,
  };
}

const minimumBrixOf = ({ minimumBrix, standInMinimumBrix }: PlaceRules): number =>
  (minimumBrix.gates || !standInMinimumBrix ? minimumBrix : standInMinimumBrix).value;
