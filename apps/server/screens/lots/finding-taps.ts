import { findEarlierAnswer } from '#libs/actions/facts/defoamer-facts.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import type { Tap } from '#pages/parts/findings.js';
import { hydrometerTaps } from '#pages/parts/hydrometer-question.js';
import { formContext } from '../../forms/form-view.js';
import { mayWrite } from '../../http/may-write.js';
import type { Principal } from '../../http/principal.js';
import type { FindingView } from '../../text/findings.js';

export interface FindingWithTaps extends FindingView {
  readonly taps: readonly Tap[];
  readonly links: readonly FindingLink[];
}

type FindingLink = { readonly href: string; readonly text: string };

/**
 * Findings, with buttons for those that one tap answers (the same bottle of defoamer as before, no spoilage, what is
 * printed on the hydrometer), and links to
 * the pages where others are dealt with.
 */
export async function withTaps(
  principal: Principal,
  lot: string,
  findings: readonly FindingView[],
): Promise<FindingWithTaps[]> {
  const all: FindingWithTaps[] = [];
  for (const [nth, finding] of findings.entries())
    all.push({
      ...finding,
      taps: isAnswerable(finding) ? await findingTaps(principal, lot, finding, nth) : [],
      links: isAnswerable(finding) ? findingLinks(principal, lot, finding) : [],
    });
  return all;
}

/** Advisories need no answer, but a blank defoamer is answered as easily as it was left out. */
const isAnswerable = ({ stop, rule }: FindingView): boolean => stop || rule === 'defoamer-not-recorded';

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
  if (finding.rule === 'bought-syrup-allergens' && kind === 'receipt')
    return mayWrite(principal, 'receipt') ? sellerTaps(lot, id, nth) : [];
  if (finding.rule === 'defoamer-not-recorded' && kind === 'boil')
    return [
      { action: defoamerAddress(id), fields: { defoamer: 'none', back: lot }, text: 'No defoamer was used', nth },
    ];
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

/** The usual answers of a seller's label about bought syrup; others have a form. */
const sellerTaps = (lot: string, receipt: string, nth: number): Tap[] =>
  (
    [
      ['none', 'The seller’s label declares none'],
      ['milk', 'It declares milk'],
    ] as const
  ).map(([allergens, text], n) => ({
    action: `/sap/receipts/${encodeURIComponent(receipt)}/allergens`,
    fields: { allergens, back: lot },
    text,
    nth: nth * 2 + n,
  }));

const defoamerAddress = (boil: string): string => `/boils/${encodeURIComponent(boil)}/log/defoamer`;

function findingLinks(principal: Principal, lot: string, { rule, about }: FindingView): FindingLink[] {
  const address = `/lots/${encodeURIComponent(lot)}`;
  switch (rule) {
    case 'undeclared-allergen':
    case 'label-net-quantity':
      return mayWrite(principal, 'labels') ? [{ href: `${address}/labels`, text: 'Print new labels' }] : [];
    case 'labels-replaced':
      return mayWrite(principal, 'mark')
        ? [{ href: `${address}/release`, text: 'The old labels are off: release' }]
        : [];
    case 'undeclared-allergen-sent':
      return [{ href: `/recall?lot=${encodeURIComponent(lot)}`, text: 'Buyers, whom to call, recall' }];
    case 'bought-syrup-allergens':
      return mayWrite(principal, 'receipt') && about
        ? [
            {
              href: `/sap/${about.replace('receipt/', 'receipts/')}/allergens?back=${encodeURIComponent(lot)}`,
              text: 'Another answer',
            },
          ]
        : [];
    case 'defoamer-not-recorded':
      return about?.startsWith('boil/') && mayWrite(principal, 'boil underway')
        ? [{ href: defoamerAddress(about.slice('boil/'.length)), text: 'One was used' }]
        : [];
    case 'thermometer-unreliable': {
      const check = about?.startsWith('check/') ? about.slice('check/'.length) : undefined;
      return check !== undefined && mayWrite(principal, 'check')
        ? [
            {
              href: `/records/check/${encodeURIComponent(check)}/correct?field=done`,
              text: 'It was adjusted in between',
            },
          ]
        : [];
    }
    default:
      return [];
  }
}
