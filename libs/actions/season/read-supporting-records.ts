import { textIn, type SupportingRecordBody } from '#libs/records/kinds/supporting-record.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { recordsOf, type StoredRecord } from '#libs/store/queries/lots.js';
import { checkedOf, suspectedBy } from '#libs/store/queries/instrument-readings.js';
import { passedCheck } from '#libs/syrup/instruments/instrument-checks.js';
import { findFailedInstruments } from '../facts/failed-instruments.js';
import { returnedJarText } from '#libs/reports/lot/returned-jar-text.js';
import type {
  Cleaning,
  Complaint,
  Defoamer,
  Equipment,
  FailedInstrument,
  FilterWashing,
  Instrument,
  InstrumentCheck,
  LeadTest,
  Licence,
  MockRecall,
  OtherRecords,
  Supply,
  SupportingRecords,
  Training,
  WaterTest,
} from '#libs/reports/season/supporting-records.js';
import { supportingRecordKinds } from '../kinds/supporting-records.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The supporting records of a year: checks, cleaning, supplies, tests, complaints, training, licences. */
export async function readSupportingRecords(reader: SugarhouseReader, year: number): Promise<SupportingRecords> {
  const ofYear = (kind: RecordKind) => textRecords(reader, kind, year);
  const ofAllYears = (kind: RecordKind) => textRecords(reader, kind);
  const supplies = await ofYear('supply');
  return {
    instruments: (await ofAllYears('instrument')).map(instrument),
    instrumentChecks: await readChecks(reader, year),
    failedInstruments: await readFailedInstruments(reader, year),
    cleanings: (await ofYear('cleaning')).map(cleaning),
    filterWashings: (await ofYear('filter')).map(filterWashing),
    equipment: (await ofAllYears('equipment')).map(equipment),
    supplies: supplies.map(supply),
    defoamers: supplies.filter(({ body }) => /defoam/i.test(body['what'] ?? '')).map(defoamer),
    waterTests: (await ofYear('water-test')).map(waterTest),
    leadTests: (await recordsOf(reader, 'lead-test')).map(leadTest),
    practiceRecalls: (await recordsOf(reader, 'practice-recall', year)).map(mockRecall),
    complaints: (await ofYear('complaint')).map(complaint),
    trainings: (await ofYear('training')).map(training),
    licences: (await ofAllYears('licence')).map(licence),
    others: await otherRecords(reader, year),
  };
}

/** A supporting record whose fields are all text. */
interface TextRecord {
  readonly id: string;
  readonly body: SupportingRecordBody & { readonly [field: string]: string | undefined };
}

const textRecords = async (reader: SugarhouseReader, kind: RecordKind, year?: number): Promise<TextRecord[]> =>
  (await recordsOf(reader, kind, year)) as TextRecord[];

const instrument = ({ id, body }: TextRecord): Instrument => ({
  id,
  kind: body['what'] ?? 'not recorded',
  description: [body['made'], body['note']].filter(Boolean).join(', '),
});

const cleaning = ({ body }: TextRecord): Cleaning => ({
  at: body.at,
  what: body['what'] ?? '',
  withWhat: body['with'] ?? '',
  strength: body['strength'] || null,
  rinsed: body['rinsed'] || body['wasRinsed'] || null,
  ...(body['mixed'] === 'acid' || body['mixed'] === 'ammonia' ? { mixed: body['mixed'] } : {}),
  by: body.by,
});

const filterWashing = ({ body }: TextRecord): FilterWashing => ({
  at: body.at,
  filter: body['what'] ?? '',
  how: body['washed'] || null,
  by: body.by,
});

const equipment = ({ id, body }: TextRecord): Equipment => ({
  id,
  name: body['what'] ?? '',
  material: body['material'] || null,
  year: body['year'] || null,
  solder: body['solder'] || null,
  note: body['note'] || null,
});

const supply = ({ id, body }: TextRecord): Supply => ({
  id,
  item: body['what'] ?? '',
  supplier: body['supplier'] ?? '',
  supplierLot: body['theirLot'] || null,
  receivedAt: body.at,
  lots: body['lot'] ? [body['lot']] : [],
});

const defoamer = ({ body }: TextRecord): Defoamer => ({
  name: body['what'] ?? '',
  allergens: body['allergens'] || null,
});

const waterTest = ({ body }: TextRecord): WaterTest => ({
  at: body.at,
  source: body['source'] ?? '',
  laboratory: body['laboratory'] || null,
  outcome: body['result'] ?? '',
});

function leadTest({ body }: StoredRecord<'lead-test'>): LeadTest {
  const lead = body['lead'] as { readonly typed: string; readonly ppb: number };
  const text = (field: string): string | null => textIn(body, field) || null;
  return { at: body.at, lot: text('lot'), equipment: text('equipment'), laboratory: text('laboratory'), ...lead };
}

const mockRecall = ({ body }: StoredRecord<'practice-recall'>): MockRecall => ({
  at: body.at,
  lot: textIn(body, 'lot'),
  minutes: typeof body['seconds'] === 'number' ? Math.ceil(body['seconds'] / 60) : null,
  ...parseAccounted(textIn(body, 'accounted')),
  counted: typeof body['counted'] === 'number' ? body['counted'] : null,
  words: textIn(body, 'result') || 'begun, not closed',
  closed: Boolean(body['result']),
  by: body.by,
});

const complaint = ({ body }: TextRecord): Complaint => ({
  at: body.at,
  code: body['jar'] || body['lot'] || null,
  words: body['said'] ?? '',
  seen: returnedJarText(body),
  done: body['done'] ?? '',
  by: body.by,
});

const training = ({ body }: TextRecord): Training => ({
  at: body.at,
  initials: body['who'] ?? '',
  subject: body['what'] ?? '',
});

const licence = ({ body }: TextRecord): Licence => ({
  what: body['what'] ?? '',
  number: body['number'] ?? '',
  until: body['until'] || null,
});

/** Records of each kind whose declaration names columns for the summary. */
async function otherRecords(reader: SugarhouseReader, year: number): Promise<OtherRecords[]> {
  const others: OtherRecords[] = [];
  for (const { kind, plural, fields, summary } of supportingRecordKinds) {
    if (summary === undefined) continue;
    others.push({
      name: plural.charAt(0).toUpperCase() + plural.slice(1).replaceAll('-', ' '),
      columns: summary.map((name) => fields[name]?.label ?? name),
      rows: (await recordsOf(reader, kind, year)).map(({ at, by, typed }) => ({
        at,
        by,
        cells: summary.map((name) => typed[name] || null),
      })),
    });
  }
  return others;
}

/** `46/46`: jars found of jars made. */
function parseAccounted(text: string): { jarsMade: number | null; jarsFound: number | null } {
  const parts = /^(\d+)\/(\d+)$/.exec(text.trim());
  return { jarsMade: parts ? Number(parts[2]) : null, jarsFound: parts ? Number(parts[1]) : null };
}

async function readChecks(reader: SugarhouseReader, year: number): Promise<InstrumentCheck[]> {
  const checks = await recordsOf(reader, 'check', year);
  const read: InstrumentCheck[] = [];
  for (const { id, body } of checks) {
    const pass = passedCheck(checkedOf(id, body)) ?? null;
    read.push({
      instrument: body.instrument,
      checkedAt: body.at,
      against: againstText(body.how),
      expectedTyped: body.should?.typed ?? null,
      foundTyped: body.reads?.typed ?? null,
      pass,
      by: body.by,
      suspectLots: pass !== false ? [] : (await suspectedBy(reader, body.instrument, id)).lots,
    });
  }
  return read;
}

async function readFailedInstruments(reader: SugarhouseReader, year: number): Promise<FailedInstrument[]> {
  const at = new Map((await recordsOf(reader, 'check', year)).map(({ id, body }) => [id, body.at]));
  return (await findFailedInstruments(reader, year)).map(({ instrument, check }) => ({
    instrument,
    at: at.get(check.id) ?? '',
    against: againstText(check.how ?? ''),
  }));
}

const againstText = (how: string): string =>
  ({ ice: 'ice point', 'boiling-water': 'boiling water of the day', reference: 'reference' })[how] ?? how;
