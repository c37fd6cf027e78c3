import { findEarlierAnswer } from '#libs/actions/lots/defoamer-facts.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import type { Tap } from '#pages/parts/findings.js';
import { hydrometerTaps } from '#pages/parts/hydrometer-question.js';
import { formContext } from '../../forms/form-view.js';
import { mayWrite } from '../../http/may-write.js';
import type { Principal } from '../../http/principal.js';
import type { FindingView } from '../../text/findings.js';

export interface FindingWithTaps extends FindingView {
  readonly taps: readonly Tap[];
}

/** Findings, with buttons for those that one tap answers: the same bottle of defoamer as before, no spoilage, what is printed on the hydrometer. */
export async function withTaps(
  principal: Principal,
  lot: string,
  findings: readonly FindingView[],
): Promise<FindingWithTaps[]> {
  const all: FindingWithTaps[] = [];
  for (const [nth, finding] of findings.entries())
    all.push({ ...finding, taps: finding.stop ? await findingTaps(principal, lot, finding, nth) : [] });
  return all;
}

/** The buttons of the questions that free text raises, by rule. */
const tapTexts: Readonly<Partial<Record<string, Readonly<Record<'no' | 'yes', string>>>>> = {
  'spoilage-question': { no: 'No, not spoilage', yes: 'Yes, spoilage' },
  'harm-question': { no: 'No, not from this syrup', yes: 'Yes, from this syrup' },
  'note-question': { no: 'No', yes: 'Yes' },
  'container-question': { no: 'No', yes: 'Yes' },
  'thin-syrup-question': { no: 'No, it was boiled', yes: 'Yes, it was not' },
  'unit-question': { no: 'No, the unit is right', yes: 'Yes, it is wrong' },
};

async function findingTaps(principal: Principal, lot: string, finding: FindingView, nth: number): Promise<Tap[]> {
  const [kind, id = ''] = finding.about?.split('/') ?? [];
  const texts = tapTexts[finding.rule];
  if (texts)
    return mayWrite(principal, 'answer')
      ? (['no', 'yes'] as const).map((answer, n) => ({
          action: `/lots/${encodeURIComponent(lot)}/answer`,
          fields: { question: finding.found, answer },
          text: texts[answer],
          nth: nth * 2 + n,
        }))
      : [];
  if (finding.rule === 'hydrometer-temperature')
    return mayWrite(principal, 'house') && (await formContext(principal)).house?.hydrometerMadeFor === undefined
      ? hydrometerTaps.map((tap, n) => ({
          action: '/house/hydrometer',
          fields: { hydrometerMadeFor: tap.value, back: lot },
          text: tap.text,
          nth: nth * hydrometerTaps.length + n,
        }))
      : [];
  if (finding.rule !== 'defoamer-allergens' || kind !== 'boil') return [];
  const reader = { sql: principal.book.read, sugarhouse: principal.writeContext.sugarhouse };
  const boil = await findLot(reader, id);
  const body = (await findRecord(reader, 'boil', id))?.body;
  const earlier = boil && body && (await findEarlierAnswer(reader, body.defoamer, boil.atUtc));
  if (!earlier || body.defoamerAllergens !== '') return [];
  return [
    {
      action: `/boils/${encodeURIComponent(id)}/log/allergens`,
      fields: { defoamerAllergens: earlier.answer, back: lot },
      text: `Same bottle: allergens ${earlier.answer}`,
      nth,
    },
  ];
}
