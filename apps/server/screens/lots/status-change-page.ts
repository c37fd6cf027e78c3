import { foundAndRequired } from '#libs/format/as-sentence.js';
import { ownAuthorities } from '#libs/actions/places/authority.js';
import { required, text, type Fields } from '#libs/actions/record/fields.js';
import { recallNoteFields } from '#libs/actions/recall/recall-notes.js';
import { loadJudgingContext, judgeLotNow } from '#libs/actions/judging/judge-now.js';
import { holdsFingerprint, nothingToRelease } from '#libs/actions/lots/release-lot.js';
import { findLot, type Lot } from '#libs/store/queries/lots.js';
import { reachText } from '#libs/reports/recall/recall-calls.js';
import type { Recall } from '#libs/reports/recall/recall.js';
import { clearanceOf } from '#libs/syrup/rules/rules.js';
import { holdReasons, releaseReasons } from './action-offers.js';
import { loadRecall } from '../recall/calls-page.js';
import { recallOffersFor } from '../recall/recall-offers.js';
import {
  type FormContext,
  formContext,
  formGroups,
  type GroupOptions,
  problemView,
  type SubmittedForm,
} from '../../forms/form-view.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import { type Principal, readerOf } from '../../http/principal.js';

export type StatusChange = 'hold' | 'release' | 'recall';

const texts: Readonly<
  Record<StatusChange, { title: string; sentence: string; submitLabel: string; why: string; example: string }>
> = {
  hold: {
    title: 'Hold',
    sentence: 'No jar of it may be sent out until a maker releases it. Every lot made from its syrup is held too.',
    submitLabel: 'Hold',
    why: 'Why',
    example: 'lids of the last tray flex',
  },
  release: {
    title: 'Release',
    sentence: 'Your initials and the time are recorded. A hold rule that still applies refuses the release.',
    submitLabel: 'Release',
    why: 'Why it may be released',
    example: 'packed again at 188 F, all seals down',
  },
  recall: {
    title: 'Recall',
    sentence:
      'Recalls this lot and every lot made from its syrup. A recall is final. Ask your authority what the law requires.',
    submitLabel: 'Recall',
    why: 'Why',
    example: 'mould found by a buyer',
  },
};

/** The form for a hold, a release or a recall; usually only the reason is needed. */
export async function statusChangePage(
  principal: Principal,
  code: string,
  change: StatusChange,
  sent: SubmittedForm = {},
) {
  const formText = texts[change];
  const seen = await lastSeenFor(principal, sent.problem, code);
  const houseContext = await formContext(principal);
  const lot = change === 'release' ? await lotAsJudgedNow(principal, code) : await findLot(readerOf(principal), code);
  const needsAuthority =
    change === 'release' && lot?.verdict?.findings.some((each) => each.stop && clearanceOf(each.rule) === 'authority');
  const fields: Fields = {
    why: required(text, { label: formText.why, example: formText.example }),
    ...(change === 'recall' ? recallNoteFields : {}),
    ...(needsAuthority ? consultationFields : {}),
  };
  const reasons = change === 'release' ? await releaseReasons(principal, lot?.code ?? code) : [];
  const remembered = {
    hold: { why: holdReasons },
    release: { why: reasons },
    recall: change === 'recall' ? await recallOffersFor(principal, [lot?.code ?? code]) : {},
  }[change];
  const recall = change === 'recall' && lot ? await loadRecall(principal, [lot.code]) : undefined;
  const lotStatus = lot && currentHolds(lot, change);
  // A recall is final. Any other lot may be held once it is judged by today's rules.
  const hasNothingToRelease = change === 'release' && lot?.state === 'recalled' && sent.problem === undefined;
  return {
    title: `${formText.title} ${code}`,
    here: lot?.kind === 'pack' ? 'packs' : 'boils',
    crumb: { href: `/lots/${code}`, text: code },
    sentence: hasNothingToRelease ? nothingToRelease(lot.code, lot.state) : formText.sentence,
    lotStatus,
    notes: recall ? recallNotes(recall, houseContext) : [],
    form: hasNothingToRelease
      ? undefined
      : {
          action: `/lots/${code}/${change}`,
          submitLabel: `${formText.submitLabel}: ${code}`,
          focus: reasons.length > 0 && change === 'release' ? undefined : 'why',
          stopping: change !== 'release',
          holds: change === 'release' ? holdsFingerprint(lot?.verdict?.findings ?? []) : undefined,
          second: lotStatus?.first !== undefined,
          ...seen,
          problem: problemView(sent.problem, fields),
          groups: formGroups(
            fields,
            [{ names: ['why', ...Object.keys(recallNoteFields)] }, ...(needsAuthority ? [consultationGroup] : [])],
            houseContext,
            sent,
            { remembered },
          ),
        },
  };
}

/** The lot with what holds it now, which is what a release accepts: its page in the index may be older. */
async function lotAsJudgedNow(principal: Principal, code: string): Promise<Lot | undefined> {
  const lot = await findLot(readerOf(principal), code);
  const judged =
    lot && (await judgeLotNow(await loadJudgingContext(principal.book.read, principal.writeContext), lot.code));
  return judged && lot.state === 'held' ? { ...judged, state: 'held' } : judged;
}

/**
 * A release is refused while only new evidence can clear a hold rule: the page names that rule before anyone writes.
 */
function currentHolds(lot: Lot, change: StatusChange) {
  const holds = lot.state === 'held' ? (lot.verdict?.findings ?? []).filter(({ stop }) => stop) : [];
  const needEvidence = holds.filter(({ rule }) => clearanceOf(rule) === 'evidence');
  return {
    state: lot.state,
    holds: holds.map(foundAndRequired),
    first:
      change === 'release' && needEvidence.length > 0 && lot.kind === 'pack'
        ? { href: `/lots/${encodeURIComponent(lot.code)}/act`, text: 'Corrective action first' }
        : undefined,
  };
}

const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** How far a recall of the lot reaches, and the authorities to ask. */
const recallNotes = (recall: Recall, { house, place }: FormContext): string[] => [
  reachText(recall),
  ...ownAuthorities(house),
  ...place.authority.map(({ name, ask }) => `${sentence(name)}: ${ask}; telephone not recorded`),
];

const consultationFields: Fields = {
  authority: required(text, { label: 'Who was asked', example: 'state department of agriculture' }),
  askedAt: required(text, { label: 'When', example: '2026-04-02' }),
  answer: required(text, { label: 'What they answered', example: 'may be sold; a process letter is on file' }),
};

const consultationGroup: GroupOptions = {
  legend: 'The authority you asked',
  text: 'Only an owner releases what these rules don’t judge, on an authority’s answer.',
  names: Object.keys(consultationFields),
};
