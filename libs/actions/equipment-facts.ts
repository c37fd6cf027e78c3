import { textIn, type SideBody } from '#libs/records/bodies.js';
import type { RecordKind } from '#libs/records/entry.js';
import { acceptedFindings } from '#libs/records/deeds.js';
import { type KeptRecord, type Lot, lotsOf, recordsOf } from '#libs/records/lots.js';
import type { Sql } from '#libs/records/sql.js';
import { lotsDownstream, ofKind } from '#libs/records/trace.js';
import { type AcceptedFinding, withAccepted } from '#libs/syrup/accept-findings.js';
import { judgeEquipment, judgeLead, type LeadTested } from '#libs/syrup/judge-equipment.js';
import type { PlaceRules } from '#libs/syrup/places.js';
import type { Finding } from '#libs/syrup/verdict.js';

interface Where {
  readonly sql: Sql;
  readonly sugarhouse: string;
  /** What the release that is being written accepts: it is not in the record yet. */
  readonly accepting?: { readonly lot: string; readonly findings: readonly AcceptedFinding[] } | undefined;
}

/** What cleanings, water tests and lead tests of its season ask of a boil. */
export async function equipmentFindings(where: Where, boil: Lot, place: PlaceRules): Promise<Finding[]> {
  const before = async (kind: RecordKind) =>
    (await recordsOf<SideBody>(where.sql, where.sugarhouse, kind, boil.year)).filter(
      ({ atUtc }) => atUtc <= boil.atUtc,
    );
  const text = (record: KeptRecord<SideBody>, name: string): string =>
    typeof record.body[name] === 'string' ? record.body[name] : '';
  const cleanings = await before('cleaning');
  const waterTests = await before('water-test');
  return judgeEquipment({
    boil: boil.code,
    cleanings: cleanings.map((each) => ({
      id: each.id,
      atUtc: each.atUtc,
      what: text(each, 'what'),
      wasRinsed: text(each, 'wasRinsed'),
      rinsed: text(each, 'rinsed'),
    })),
    waterTests: waterTests.map((each) => ({
      id: each.id,
      atUtc: each.atUtc,
      source: text(each, 'source'),
      bacteria: text(each, 'bacteria'),
      result: text(each, 'result'),
    })),
    leadTests: (await leadTests(where)).filter(({ atUtc }) => atUtc <= boil.atUtc),
    place,
  });
}

/** The same of the boils above a pack; what a release of the boil accepted, it accepted for its packs. */
export async function equipmentAbove(
  where: Where,
  pack: Lot,
  boils: readonly Lot[],
  place: PlaceRules,
): Promise<Finding[]> {
  const tests = await leadTests(where);
  const findings = judgeLead(pack.code, tests, place);
  for (const boil of boils) {
    const asked = [...(await equipmentFindings(where, boil, place)), ...judgeLead(boil.code, tests, place)];
    if (asked.length > 0) findings.push(...withAccepted(asked, await acceptedOf(where, boil.code)));
  }
  return findings;
}

async function acceptedOf({ sql, sugarhouse, accepting }: Where, lot: string): Promise<AcceptedFinding[]> {
  const before = await acceptedFindings(sql, sugarhouse, lot);
  return accepting?.lot === lot ? [...before, ...accepting.findings] : before;
}

export async function leadTests({ sql, sugarhouse }: Where): Promise<LeadTested[]> {
  return (await recordsOf<SideBody>(sql, sugarhouse, 'lead-test')).map(({ id, atUtc, body }) => {
    const lead = body['lead'] as { readonly typed: string; readonly ppb: number };
    return { id, atUtc, lot: textIn(body, 'lot'), equipment: textIn(body, 'equipment'), ...lead };
  });
}

/** Boils of these years, and their packs: what a cleaning or a test of that year may say something new of. */
export async function boilsOfYears(
  { sql, sugarhouse }: Where,
  years: readonly number[],
  sinceUtc: string,
): Promise<string[]> {
  const codes = new Set<string>();
  for (const year of new Set(years))
    for (const boil of await lotsOf(sql, sugarhouse, 'boil', year)) {
      if (boil.atUtc < sinceUtc) continue;
      codes.add(boil.code);
      for (const pack of ofKind(await lotsDownstream(sql, sugarhouse, boil.code), 'pack')) codes.add(pack.code);
    }
  return [...codes];
}
