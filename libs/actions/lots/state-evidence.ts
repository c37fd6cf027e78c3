import { textIn } from '#libs/records/kinds/supporting-record.js';
import { findRecord, type Lot, recordsOf, type StoredRecord } from '#libs/store/queries/lots.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findMatchingId, readingMs, sameId } from '#libs/syrup/instruments/thermometers.js';
import type { JudgedReading } from '#libs/syrup/rules/judge-reading.js';
import type { RuleEvidence, CheckRecorded } from '#libs/syrup/rules/open-facts.js';
import type { BoilOpenFacts } from '#libs/syrup/rules/why-open.js';

/**
 * For each thermometer that read the jars, at every check point: the last check before its readings and the first after
 * them.
 */
export async function loadChecksAround(
  reader: SugarhouseReader,
  readings: readonly JudgedReading[],
): Promise<Map<string, CheckRecorded[]>> {
  const ids = [...new Set(readings.flatMap(({ by }) => by?.thermometer.id ?? []))];
  const all = ids.length === 0 ? [] : await recordsOf(reader, 'check');
  return new Map(
    ids.map((id) => {
      const times = readings.filter(({ by }) => by?.thermometer.id === id).map(({ fill }) => readingMs(fill));
      const own = all.filter(({ body }) => sameId(findMatchingId(body.instrument, ids), id));
      const [first, last] = [Math.min(...times), Math.max(...times)];
      const around = (['ice', 'boiling-water', 'reference'] as const).flatMap((how) => {
        const ofPoint = own.filter(({ body }) => body.how === how);
        const before = ofPoint.findLast(({ body }) => Date.parse(body.at) <= first);
        const after = ofPoint.filter(({ body }) => Date.parse(body.at) > first);
        const between = after.filter(({ body }) => Date.parse(body.at) <= last);
        return [...(before ? [before] : []), ...between, ...after.slice(between.length, between.length + 1)];
      });
      return [id, around.map(checkRecorded)] as const;
    }),
  );
}

const checkRecorded = ({ body: { at, how, should, reads, by } }: StoredRecord<'check'>): CheckRecorded => ({
  at,
  how,
  should: should?.typed,
  reads: reads?.typed,
  by,
});

/** Evidence on the boils: what went in and came out, what was cleaned and tested before they began, and lead tests. */
export async function loadBoilEvidence(
  reader: SugarhouseReader,
  lot: string,
  boils: readonly Lot[],
): Promise<Omit<BoilOpenFacts, 'findings'>> {
  const sugar: RuleEvidence[] = [];
  const sap: RuleEvidence[] = [];
  for (const boil of boils) {
    sugar.push(await sugarAnswer(reader, boil));
    sap.push(await sapAnswer(reader, boil));
  }
  return {
    sugar: mergeAnswers(sugar),
    sap: mergeAnswers(sap),
    equipment: await equipmentAnswer(reader, boils),
    lead: await leadAnswer(reader, lot, boils),
  };
}

const mergeAnswers = (answers: readonly RuleEvidence[]): RuleEvidence => ({
  because: answers.flatMap(({ because }) => because),
  notRecorded: answers.flatMap(({ notRecorded = [] }) => notRecorded),
  isJudged: answers.every(({ isJudged }) => isJudged !== false),
});

async function sugarAnswer(reader: SugarhouseReader, { code }: Lot): Promise<RuleEvidence> {
  const body = (await findRecord(reader, 'boil', code))?.body;
  if (!body) return { because: [] };
  const inputs: string[] = [];
  const unread: string[] = [];
  for (const { lot, typed } of body.gatherings) {
    const gathering = (await findRecord(reader, 'gathering', lot))?.body;
    const bought = gathering ? undefined : (await findRecord(reader, 'receipt', lot))?.body;
    const sugar = gathering?.sugar?.typed ?? bought?.density?.typed;
    inputs.push(`${typed || 'all'} of ${lot}${sugar ? ` at ${sugar}` : ''}`);
    if (!sugar && !body.sapSugar) unread.push(`the sugar of ${lot}`);
  }
  if (body.sapVolume) inputs.push(`${body.sapVolume.typed} of sap${body.sapSugar ? ` at ${body.sapSugar.typed}` : ''}`);
  inputs.push(...body.carriedFrom.map(({ lot, typed }) => `${typed || 'what'} was left in the pans from ${lot}`));
  return {
    because:
      inputs.length > 0 && body.syrupVolume
        ? [`${code}: ${body.syrupVolume.typed} of syrup from ${inputs.join(', ')}, by ${body.by}`]
        : [],
    notRecorded: [
      ...unread,
      ...(inputs.length === 0 ? [`the sap of ${code}`] : []),
      ...(body.syrupVolume ? [] : [`how much syrup ${code} made`]),
    ],
    // Sweet left in the pans counts at any amount; sap whose sugar nobody read isn't judged.
    isJudged: unread.length === 0 || body.carriedFrom.length > 0,
  };
}

/** How the sap of a boil looked and smelled: gathered, bought, or given only as an amount. */
async function sapAnswer(reader: SugarhouseReader, { code }: Lot): Promise<RuleEvidence> {
  const body = (await findRecord(reader, 'boil', code))?.body;
  if (!body) return { because: [] };
  const because: string[] = [];
  const notRecorded: string[] = [];
  for (const { lot } of body.gatherings) {
    const gathering = (await findRecord(reader, 'gathering', lot))?.body;
    if (gathering?.condition) because.push(`${lot}: ${gathering.condition}, by ${gathering.by}`);
    else notRecorded.push(`how the sap of ${lot} looked and smelled`);
  }
  if (body.gatherings.length === 0 && body.sapVolume) notRecorded.push(`how the sap of ${code} looked and smelled`);
  if (body.gatherings.length === 0 && !body.sapVolume)
    if (body.carriedFrom.length === 0) notRecorded.push(`the sap of ${code}`);
    else because.push(`${code}: only what was left in the pans, by ${body.by}`);
  return { because, notRecorded, isJudged: notRecorded.length === 0 };
}

async function equipmentAnswer(reader: SugarhouseReader, boils: readonly Lot[]): Promise<RuleEvidence> {
  const cleanings = await recordsOf(reader, 'cleaning');
  const tests = await recordsOf(reader, 'water-test');
  return mergeAnswers(
    boils.map(({ code, atUtc }) => {
      const before = <K extends 'cleaning' | 'water-test'>(records: readonly StoredRecord<K>[]) =>
        records.filter((each) => each.atUtc <= atUtc);
      const cleaned = latestByName(before(cleanings), ({ body }) => textIn(body, 'what'));
      const tested = latestByName(before(tests), ({ body }) => textIn(body, 'source'));
      return {
        because: [
          ...cleaned.map(
            ({ id, body }) =>
              `before ${code}, ${id}: ${textIn(body, 'what')} cleaned ${body.at.slice(0, 10)}, rinsed ${[textIn(body, 'wasRinsed'), textIn(body, 'rinsed')].filter(Boolean).join(', ') || 'not recorded'}, by ${body.by}`,
          ),
          ...tested.map(
            ({ id, body }) =>
              `before ${code}, ${id}: water of ${textIn(body, 'source')} tested ${body.at.slice(0, 10)}: ${[textIn(body, 'bacteria'), textIn(body, 'result')].filter(Boolean).join(', ')}, by ${body.by}`,
          ),
        ],
        notRecorded: [
          ...(cleaned.length > 0 ? [] : [`a cleaning before ${code}`]),
          ...(tested.length > 0 ? [] : [`a water test before ${code}`]),
        ],
        isJudged: cleaned.length > 0 && tested.length > 0,
      };
    }),
  );
}

async function leadAnswer(reader: SugarhouseReader, lot: string, boils: readonly Lot[]): Promise<RuleEvidence> {
  const lots = new Set([lot, ...boils.map(({ code }) => code)]);
  const tests = (await recordsOf(reader, 'lead-test')).filter(({ body }) => lots.has(textIn(body, 'lot')));
  if (tests.length === 0) return { because: [], notRecorded: [`a lead test of ${[...lots].join(' or ')}`] };
  return {
    because: tests.map(
      ({ id, body }) =>
        `${id}: ${textIn(body, 'lot')} read ${(body['lead'] as { readonly typed: string }).typed} ${body.at.slice(0, 10)}, by ${body.by}`,
    ),
  };
}

/** The latest record for each thing cleaned or tested. */
const latestByName = <R>(records: readonly R[], of: (record: R) => string): R[] => [
  ...new Map(records.map((each) => [of(each).trim().toLowerCase(), each])).values(),
];
