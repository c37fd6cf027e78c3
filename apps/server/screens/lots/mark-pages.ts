import { whomToAsk } from '#libs/actions/places/authority.js';
import { actionFields } from '#libs/actions/kinds/corrective-action.js';
import { needed, text, type Fields } from '#libs/actions/record/fields.js';
import { recallNoteFields } from '#libs/actions/recall/recall-notes.js';
import { findLot } from '#libs/store/queries/lots.js';
import { reachText } from '#libs/reports/recall/recall-calls.js';
import { clearsOf } from '#libs/syrup/rules/rules.js';
import { actionOffers, holdReasons, releaseReasons } from './action-offers.js';
import { recallFrom } from '../recall/calls-page.js';
import { formContext, formGroups, problemView, type Sent } from '../../forms/form-view.js';
import type { Offer } from '../../forms/field-view.js';
import { seenOn } from '../../forms/last-seen.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { cautionsFor } from '../../text/cautions.js';

export type Mark = 'hold' | 'release' | 'recall';

const words: Readonly<
  Record<Mark, { title: string; sentence: string; submitLabel: string; why: string; example: string }>
> = {
  hold: {
    title: 'Hold',
    sentence: 'Nothing of it may leave until somebody releases it. Everything its syrup went into is held too.',
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
      'Recalls this lot and everything its syrup went into. A recall is final. Ask your authority what the law requires of you.',
    submitLabel: 'Recall',
    why: 'Why',
    example: 'mould found by a buyer',
  },
};

/** A deed on a lot that needs only its reason. */
export async function markPage(principal: Principal, code: string, mark: Mark, sent: Sent = {}) {
  const view = words[mark];
  const seen = await seenOn(principal, sent.problem, code);
  const houseContext = await formContext(principal);
  const lot = await findLot(readerOf(principal), code);
  const outside =
    mark === 'release' && lot?.verdict?.findings.some((each) => each.stop && clearsOf(each.rule) === 'authority');
  const fields: Fields = {
    why: needed(text, { label: view.why, example: view.example }),
    ...(mark === 'recall' ? recallNoteFields : {}),
    ...(outside ? askedFields : {}),
  };
  const reasons =
    mark === 'hold' ? holdReasons : mark === 'release' ? await releaseReasons(principal, lot?.code ?? code) : [];
  const recall = mark === 'recall' && lot ? await recallFrom(principal, [lot.code]) : undefined;
  return {
    title: `${view.title} ${code}`,
    here: lot?.kind === 'pack' ? 'packs' : 'boils',
    crumb: { href: `/lots/${code}`, text: code },
    sentence: view.sentence,
    said: recall
      ? [
          reachText(recall),
          ...whomToAsk(houseContext),
          ...recall.authorities.map((each) => `${each.name}: telephone ${each.contact ?? 'not recorded'}`),
        ]
      : [],
    form: {
      action: `/lots/${code}/mark/${mark}`,
      submitLabel: `${view.submitLabel}: ${code}`,
      focus: reasons.length > 0 && mark === 'release' ? undefined : 'why',
      stopping: mark !== 'release',
      ...seen,
      problem: problemView(sent.problem, fields),
      groups: formGroups(
        fields,
        [
          { names: ['why', ...Object.keys(recallNoteFields)] },
          ...(outside
            ? [
                {
                  legend: 'The authority you asked',
                  text: 'Only an owner releases what these rules don’t judge, on an authority’s answer.',
                  names: Object.keys(askedFields),
                },
              ]
            : []),
        ],
        houseContext,
        picked('why', sent, mark === 'release' ? reasons : []),
        { remembered: { why: reasons } },
      ),
    },
  };
}

/** The newest reason on record is picked, to be changed: it was recorded, and no reading depends on it. */
const picked = (name: string, sent: Sent, offers: readonly Offer[]): Sent =>
  sent.posted || !offers[0] ? sent : { ...sent, posted: { [name]: offers[0].value } };

const askedFields: Fields = {
  authority: needed(text, { label: 'Who was asked', example: 'state department of agriculture' }),
  askedAt: needed(text, { label: 'When', example: '2026-04-02' }),
  answer: needed(text, { label: 'What they answered', example: 'may be sold; a process letter is on file' }),
};

/** The kind of action says what was done, so more words are asked for only where there are some. */
const actFields: Fields = {
  ...actionFields,
  done: { ...actionFields.done, needed: false, label: 'What was done, in more words' },
};

/** What was found, what was done, and the readings that show it worked. */
export async function actPage(principal: Principal, code: string, sent: Sent = {}) {
  const seen = await seenOn(principal, sent.problem, code);
  const houseContext = await formContext(principal);
  const lot = await findLot(readerOf(principal), code);
  const remembered = lot ? await actionOffers(principal, lot) : {};
  const mould = lot?.verdict?.findings.some(({ stop, rule }) => stop && rule.startsWith('mould'));
  const reads = lot?.verdict?.findings.some(
    ({ stop, rule }) => stop && clearsOf(rule) === 'evidence' && !rule.startsWith('mould'),
  );
  return {
    title: `Corrective action on ${code}`,
    here: 'packs',
    crumb: { href: `/lots/${code}`, text: code },
    sentence:
      'The lot is judged by the new readings; the old ones stay in the history. After that a maker releases it.',
    cautions: cautionsFor('pack', 'seal'),
    form: {
      action: `/lots/${code}/act`,
      submitLabel: 'Save',
      draft: `act-${code}`,
      ...seen,
      problem: problemView(sent.problem, actionFields),
      groups: formGroups(
        actFields,
        [
          { names: ['found', 'way', 'cause', 'jars', 'done'] },
          { folded: 'When', names: ['at'] },
          {
            ...(mould
              ? { legend: 'Mould: other jars opened and inspected' }
              : { folded: 'Mould: other jars inspected' }),
            names: ['mould', 'jarsMouldy', 'jarsSound'],
          },
          {
            ...(reads ? { legend: 'New readings' } : { folded: 'New readings' }),
            text: 'Only what was read again. Syrup that was boiled again needs its density read again.',
            names: [
              'fillTemps',
              'hotPackTemp',
              'densityReading',
              'densityAt',
              'densityBy',
              'densityCalibratedAt',
              'instruments',
            ],
          },
          {
            folded: 'Seals, looks, taste, allergens',
            names: ['sealsFailed', 'sealsOutcome', 'clarity', 'offFlavour', 'defoamerAllergens', 'by'],
          },
        ],
        houseContext,
        picked('found', sent, remembered['found'] ?? []),
        { when: 'live', remembered },
      ),
    },
  };
}
