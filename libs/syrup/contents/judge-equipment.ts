import { needsNoRinse, isUnrinsed, waterFailed } from '../free-text/cleaning-text.js';
import { sourceText } from '../rules/provenance.js';
import type { PlaceRules } from '../labelling/places.js';
import type { EquipmentEvidence } from '../rules/finding-evidence.js';
import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';

/** A record of cleaning or testing; `atUtc` is when it was done. */
interface Recorded {
  readonly id: string;
  readonly atUtc: string;
}
export interface CleaningRecorded extends Recorded {
  readonly what: string;
  readonly with: string;
  readonly wasRinsed: string;
  readonly rinsed: string;
}
export interface WaterTested extends Recorded {
  readonly source: string;
  readonly bacteria: string;
  readonly result: string;
}
export interface LeadTested extends Recorded {
  /** The lot that was tested, or blank where a piece of equipment was. */
  readonly lot: string;
  readonly equipment: string;
  /** The result as typed, and in parts per billion. */
  readonly typed: string;
  readonly ppb: number;
}

/** What had been recorded when a boil began, oldest first. */
export interface EquipmentFacts {
  readonly boil: string;
  readonly cleanings: readonly CleaningRecorded[];
  readonly waterTests: readonly WaterTested[];
  readonly leadTests: readonly LeadTested[];
  readonly place: Pick<PlaceRules, 'lead' | 'name'>;
}

/**
 * Questions about unrinsed equipment, failed water tests and lead in equipment. Each names the record that raised it and
 * holds the boil and its packs until somebody releases the boil with a reason.
 */
export function judgeEquipment({ boil, cleanings, waterTests, leadTests, place }: EquipmentFacts): Finding[] {
  const limit = place.lead;
  return [
    ...newestPerSubject(cleanings, ({ what }) => what)
      .filter((each) => isUnrinsed(each.wasRinsed, each.rinsed) && !needsNoRinse(each))
      .map(({ id, what }) =>
        equipmentQuestion(
          `boil ${boil} began after cleaning ${id} of ${what.trim()}, which was not rinsed`,
          'did sap or syrup touch it before it was rinsed',
          `cleaning/${id}`,
          { boil, cleaning: id, equipment: what.trim() },
        ),
      ),
    ...newestPerSubject(waterTests, ({ source }) => source)
      .filter(({ bacteria, result }) => waterFailed(bacteria, result))
      .map(({ id, source, result }) =>
        equipmentQuestion(
          `boil ${boil} began after water test ${id} of ${source.trim()} found “${result.trim()}”`,
          'did that water touch anything that syrup touches after it was boiled',
          `water-test/${id}`,
          { boil, waterTest: id, source: source.trim(), result: result.trim() },
        ),
      ),
    ...(limit
      ? newestPerSubject(
          leadTests.filter(({ lot }) => lot === ''),
          ({ equipment }) => equipment,
        )
          .filter(({ ppb }) => ppb > limit.ppb)
          .map(({ id, equipment, typed }) =>
            equipmentQuestion(
              `boil ${boil} began after lead test ${id} of ${equipment.trim()} read ${typed}, over the ${limit.ppb} ppb of ${place.name}`,
              'did it go through it',
              `lead-test/${id}`,
              {
                boil,
                leadTest: id,
                equipment: equipment.trim(),
                lead: typed,
                limitPpb: limit.ppb,
                place: place.name,
              },
            ),
          )
      : []),
  ];
}

/**
 * A finding where a lead test of the lot itself is over the place's limit, if that is known. A later result below the
 * limit doesn't clear it: contradicting results hold until an owner records why one no longer counts.
 */
export function judgeLead(
  lot: string,
  tests: readonly LeadTested[],
  place: Pick<PlaceRules, 'lead' | 'name' | 'authority'>,
): Finding[] {
  const limit = place.lead;
  const ofLot = tests.filter((each) => each.lot === lot);
  const allOver = limit ? ofLot.filter(({ ppb }) => ppb > limit.ppb) : [];
  const over = allOver.at(-1);
  if (!limit || !over) return [];
  const later = ofLot.slice(ofLot.indexOf(over) + 1).map(({ id, typed }) => `${id} read ${typed}`);
  const authority = place.authority[0]?.name ?? 'the authority';
  return [
    findingOf('lead-over-limit', {
      limit: `no more than ${limit.ppb} ppb of lead in ${place.name}`,
      found: `lead test ${over.id} of ${lot} read ${over.typed}`,
      source: sourceText(limit),
      wayOut:
        later.length > 0
          ? `Lead test ${later.join(', ')}: the results disagree. Ask ${authority} which one counts; an owner then releases the lot with the answer. Or correct a result that was entered wrong, or destroy the lot.`
          : `Test it again and ask ${authority}; an owner then releases the lot with the answer. Or destroy it.`,
      identity: {
        evidence: { lot, over: allOver.map(({ id, typed }) => ({ leadTest: id, lead: typed })), limitPpb: limit.ppb },
      },
    }),
  ];
}

/** The newest record about each subject (a piece of equipment, a water source), regardless of case. */
function newestPerSubject<N extends Recorded>(records: readonly N[], of: (each: N) => string): N[] {
  return [...new Map(records.map((each) => [of(each).trim().toLowerCase(), each])).values()];
}

const equipmentQuestion = (found: string, question: string, about: string, evidence: EquipmentEvidence): Finding =>
  findingOf('equipment-question', {
    limit: 'equipment rinsed, water free of coliform, no part over the lead limit',
    found: `${found}: ${question}?`,
    about,
    wayOut:
      'If it didn’t, or it was put right before the boil, release the boil with that reason: its packs are released with it.',
    identity: { evidence },
  });
