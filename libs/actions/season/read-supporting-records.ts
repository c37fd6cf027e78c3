import { textIn, type SupportingRecordBody } from '#libs/records/kinds/supporting-record.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { recordsOf } from '#libs/store/queries/lots.js';
import { checkedOf, suspectedBy } from '#libs/store/queries/instrument-readings.js';
import { foundRight } from '#libs/syrup/instruments/instrument-checks.js';
import { returnedJarText } from '#libs/reports/lot/returned-jar-text.js';
import type { InstrumentCheck, OtherRecords, SupportingRecords } from '#libs/reports/season/supporting-records.js';
import { supportingRecordKinds } from '../kinds/supporting-records.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A supporting record's fields, all text except the few that are parsed as quantities. */
type TextRecord = SupportingRecordBody & { readonly [field: string]: string | undefined };

export interface SupportingRecordsRead {
  readonly records: SupportingRecords;
  readonly instrumentChecks: readonly InstrumentCheck[];
}

/** The supporting records of a year: checks, cleaning, supplies, tests, complaints, training, licences. */
export async function readSupportingRecords(reader: SugarhouseReader, year: number): Promise<SupportingRecordsRead> {
  const loadYear = async (kind: RecordKind): Promise<{ id: string; body: TextRecord }[]> =>
    (await recordsOf(reader, kind, year)) as { id: string; body: TextRecord }[];
  const loadAll = async (kind: RecordKind): Promise<{ id: string; body: TextRecord }[]> =>
    (await recordsOf(reader, kind)) as { id: string; body: TextRecord }[];
  const instrumentChecks = await readChecks(reader, year);
  const supplies = await loadYear('supply');
  const records: SupportingRecords = {
    instruments: (await loadAll('instrument')).map(({ id, body }) => ({
      id,
      kind: body['what'] ?? 'not recorded',
      description: [body['made'], body['note']].filter(Boolean).join(', '),
    })),
    instrumentChecks,
    cleanings: (await loadYear('cleaning')).map(({ body }) => ({
      at: body.at,
      what: body['what'] ?? '',
      withWhat: body['with'] ?? '',
      strength: body['strength'] || null,
      rinsed: body['rinsed'] || body['wasRinsed'] || null,
      ...(body['mixed'] === 'acid' || body['mixed'] === 'ammonia' ? { mixed: body['mixed'] } : {}),
      by: body.by,
    })),
    filterWashings: (await loadYear('filter')).map(({ body }) => ({
      at: body.at,
      filter: body['what'] ?? '',
      how: body['washed'] || null,
      by: body.by,
    })),
    equipment: (await loadAll('equipment')).map(({ id, body }) => ({
      id,
      name: body['what'] ?? '',
      material: body['material'] || null,
      year: body['year'] || null,
      solder: body['solder'] || null,
      note: body['note'] || null,
    })),
    supplies: supplies.map(({ id, body }) => ({
      id,
      item: body['what'] ?? '',
      supplier: body['supplier'] ?? '',
      supplierLot: body['theirLot'] || null,
      receivedAt: body.at,
      lots: body['lot'] ? [body['lot']] : [],
    })),
    defoamers: supplies
      .filter(({ body }) => /defoam/i.test(body['what'] ?? ''))
      .map(({ body }) => ({ name: body['what'] ?? '', allergens: body['allergens'] || null })),
    waterTests: (await loadYear('water-test')).map(({ body }) => ({
      at: body.at,
      source: body['source'] ?? '',
      laboratory: body['laboratory'] || null,
      outcome: body['result'] ?? '',
    })),
    leadTests: (await recordsOf(reader, 'lead-test')).map(({ body }) => {
      const lead = body['lead'] as { readonly typed: string; readonly ppb: number };
      const text = (name: string): string | null => textIn(body, name) || null;
      return { at: body.at, lot: text('lot'), equipment: text('equipment'), laboratory: text('laboratory'), ...lead };
    }),
    practiceRecalls: (await recordsOf(reader, 'practice-recall', year)).map(({ body }) => ({
      at: body.at,
      lot: textIn(body, 'lot'),
      minutes: typeof body['seconds'] === 'number' ? Math.ceil(body['seconds'] / 60) : null,
      ...parseAccounted(textIn(body, 'accounted')),
      counted: typeof body['counted'] === 'number' ? body['counted'] : null,
      words: textIn(body, 'result') || 'begun, not closed',
      closed: Boolean(body['result']),
      by: body.by,
    })),
    complaints: (await loadYear('complaint')).map(({ body }) => ({
      at: body.at,
      code: body['jar'] || body['lot'] || null,
      words: body['said'] ?? '',
      seen: returnedJarText(body),
      done: body['done'] ?? '',
      by: body.by,
    })),
    trainings: (await loadYear('training')).map(({ body }) => ({
      at: body.at,
      initials: body['who'] ?? '',
      subject: body['what'] ?? '',
    })),
    licences: (await loadAll('licence')).map(({ body }) => ({
      what: body['what'] ?? '',
      number: body['number'] ?? '',
      until: body['until'] || null,
    })),
    others: await otherRecords(reader, year),
  };
  return { records, instrumentChecks };
}

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
    const pass = foundRight(checkedOf(id, body)) ?? null;
    read.push({
      instrument: body.instrument,
      checkedAt: body.at,
      against:
        { ice: 'ice point', 'boiling-water': 'boiling water of the day', reference: 'reference' }[body.how] ?? body.how,
      expectedTyped: body.should?.typed ?? null,
      foundTyped: body.reads?.typed ?? null,
      pass,
      by: body.by,
      suspectLots: pass !== false ? [] : (await suspectedBy(reader, body.instrument, id)).lots,
    });
  }
  return read;
}
