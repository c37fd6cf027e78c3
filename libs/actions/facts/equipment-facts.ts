import { textIn } from '#libs/records/kinds/supporting-record.js';
import { acceptedFindings } from '#libs/store/log/lot-entries.js';
import { findRecord, type StoredRecord, type Lot, recordsOf } from '#libs/store/queries/lots.js';
import type { JudgingContext } from '../judging/judging-context.js';
import { type AcceptedFinding, withAccepted } from '#libs/syrup/rules/accept-findings.js';
import {
  type EquipmentFacts,
  judgeEquipment,
  judgeLead,
  type LeadTested,
} from '#libs/syrup/contents/judge-equipment.js';
import { judgeLeadRisk } from '#libs/syrup/contents/judge-lead-risk.js';
import { type PlaceRules, rulesInContainer } from '#libs/syrup/labelling/places.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';

type Where = Pick<JudgingContext, 'sql' | 'sugarhouse' | 'acceptedByRelease'>;

/** Findings from cleanings, water tests and lead tests for a boil that began after them. */
export async function equipmentFindings(where: Where, boil: Lot, place: PlaceRules): Promise<Finding[]> {
  const recorded = await equipmentRecords(where);
  return [...findingsBefore(recorded, boil, place), ...(await leadRiskFindings(where, boil, recorded.leadTests))];
}

/** Equipment that may hold lead, recorded in the boil’s year or before and not tested by then. */
async function leadRiskFindings(where: Where, boil: Lot, leadTests: readonly LeadTested[]): Promise<Finding[]> {
  const { sql, sugarhouse } = where;
  const byThen = ({ atUtc }: { readonly atUtc: string }): boolean => atUtc.slice(0, 4) <= boil.atUtc.slice(0, 4);
  const equipment = (await recordsOf({ sql, sugarhouse }, 'equipment')).filter(byThen);
  return judgeLeadRisk(
    boil.code,
    equipment.map(({ id, body }) => ({
      id,
      what: textIn(body, 'what'),
      material: textIn(body, 'material'),
      solder: textIn(body, 'solder'),
      note: textIn(body, 'note'),
    })),
    leadTests.filter(byThen).map((each) => each.equipment),
  );
}

/** The same for the boils upstream of a pack; what a release of the boil accepted is accepted for its packs. */
export async function upstreamEquipmentFindings(
  where: Where,
  pack: Lot,
  boils: readonly Lot[],
  place: PlaceRules,
): Promise<Finding[]> {
  const recorded = await equipmentRecords(where);
  const container = (await findRecord(where, 'pack', pack.code))?.body.container;
  const inContainer = container ? rulesInContainer(place, container.volume.millilitres) : place;
  const findings = judgeLead(pack.code, recorded.leadTests, inContainer);
  for (const boil of boils) {
    const boilFindings = [
      ...findingsBefore(recorded, boil, place),
      ...judgeLead(boil.code, recorded.leadTests, inContainer),
    ];
    if (boilFindings.length > 0)
      findings.push(...withAccepted(boilFindings, await loadAcceptedFindings(where, boil.code)));
  }
  return findings;
}

function findingsBefore(
  { cleanings, waterTests, leadTests }: EquipmentRecords,
  boil: Lot,
  place: PlaceRules,
): Finding[] {
  const before = <N extends { readonly atUtc: string }>(records: readonly N[]): N[] =>
    records.filter(({ atUtc }) => atUtc <= boil.atUtc);
  return judgeEquipment({
    boil: boil.code,
    cleanings: before(cleanings),
    waterTests: before(waterTests),
    leadTests: before(leadTests),
    place,
  });
}

type EquipmentRecords = Pick<EquipmentFacts, 'cleanings' | 'waterTests' | 'leadTests'>;

/** All of them, whatever their year: a new year neither rinses a pan nor repairs a well. */
async function equipmentRecords(where: Where): Promise<EquipmentRecords> {
  const { sql, sugarhouse } = where;
  const text = ({ body }: StoredRecord<'cleaning' | 'water-test' | 'lead-test'>, name: string): string =>
    textIn(body, name);
  const cleanings = await recordsOf({ sql, sugarhouse }, 'cleaning');
  const waterTests = await recordsOf({ sql, sugarhouse }, 'water-test');
  return {
    cleanings: cleanings.map((each) => ({
      id: each.id,
      atUtc: each.atUtc,
      what: text(each, 'what'),
      with: text(each, 'with'),
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
    leadTests: await loadLeadTests(where),
  };
}

async function loadAcceptedFindings(
  { sql, sugarhouse, acceptedByRelease }: Where,
  lot: string,
): Promise<AcceptedFinding[]> {
  const before = await acceptedFindings({ sql, sugarhouse }, lot);
  return acceptedByRelease?.lot === lot ? [...before, ...acceptedByRelease.findings] : before;
}

/** All lead tests of the house, with their result in parts per billion. */
export async function loadLeadTests({ sql, sugarhouse }: Where): Promise<LeadTested[]> {
  return (await recordsOf({ sql, sugarhouse }, 'lead-test')).map(({ id, atUtc, body }) => {
    const lead = body['lead'] as { readonly typed: string; readonly ppb: number };
    return { id, atUtc, lot: textIn(body, 'lot'), equipment: textIn(body, 'equipment'), ...lead };
  });
}
