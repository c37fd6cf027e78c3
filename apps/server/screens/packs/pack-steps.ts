import type { CautionPlace } from '#libs/actions/places/cautions.js';
import { packUnderwayFields } from '#libs/actions/kinds/pack.js';
import { sealRecheck } from '#libs/actions/jars/seal-recheck.js';
import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import { findRecord } from '#libs/store/queries/lots.js';
import {
  formContext,
  formGroups,
  problemView,
  type GroupOptions,
  type SubmittedForm,
  withRemainingFields,
} from '../../forms/form-view.js';
import { withRemembered } from '../../forms/remembered.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import { recordedValues } from '../../forms/recorded-values.js';
import { cautionsFor } from '../../text/cautions.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { highestJarRead } from '../lots/fill-form-view.js';
import { validReadings } from '../lots/fill-views.js';

interface Step {
  readonly title: string;
  readonly submitLabel: string;
  readonly sentence: string;
  readonly groups: readonly GroupOptions[];
  readonly caution: CautionPlace;
}

/**
 * Entered where a pack is started, or in a form of its own: readings jar by jar, broken glass, seals, another
 * hydrometer.
 */
const enteredElsewhere = [
  ...['lot', 'id', 'by', 'fromLots', 'packedAt', 'container', 'product'],
  ...['fillTemps', 'brokenGlass', 'thermometerCheck', 'sealsFailed', 'sealsOutcome', 'sealsAt', 'densityCalibratedAt'],
];

/** What is added to a pack after its jars are filled, each when it is measured. */
const steps: Readonly<Record<string, Step>> = {
  finish: {
    title: 'All jars are filled',
    submitLabel: 'Save',
    sentence: 'Enter how many there are. You can still add readings later.',
    groups: withRemainingFields(
      packUnderwayFields,
      [
        { names: ['jars', 'hotPackTemp'] },
        {
          legend: 'Density',
          text: 'Hydrometer and thermometer read at the same moment, since the last boil-up.',
          names: ['densityReading', 'densityAt', 'densityBy', 'instruments'],
        },
        { legend: 'At the bench', names: ['benchReady', 'benchFilled'] },
        {
          folded: 'Colour, looks and taste',
          names: ['transmittance', 'colourClass', 'clarity', 'offFlavour', 'mould'],
        },
        { folded: 'Preparation of the jars, note', names: ['containerPrep', 'note'] },
      ],
      enteredElsewhere,
    ),
    caution: 'pack',
  },
  density: {
    title: 'Density',
    submitLabel: 'Save',
    sentence: 'Hydrometer and thermometer read at the same moment, since the last boil-up.',
    groups: [{ names: ['densityReading', 'densityAt', 'densityBy', 'instruments', 'densityCalibratedAt'] }],
    caution: 'pack',
  },
  seals: {
    title: 'Seals',
    submitLabel: 'Save',
    sentence:
      'When they are cold: the lid is drawn down and does not flex. If none failed, enter 0; blank means not checked.',
    groups: [{ names: ['sealsFailed', 'sealsOutcome', 'sealsAt'] }],
    caution: 'seal',
  },
  looks: {
    title: 'Colour and looks',
    submitLabel: 'Save',
    sentence: 'A screen cannot show a colour class: read it, or compare it with a set of standards.',
    groups: [{ names: ['transmittance', 'colourClass', 'clarity', 'offFlavour', 'mould'] }],
    caution: 'label',
  },
};

/** The form of a later step of a pack (finish, density, seals, colour); a refusal where there is no such step. */
export async function stepPage(principal: Principal, code: string, name: string, request: SubmittedForm = {}) {
  const step = Object.hasOwn(steps, name) ? steps[name] : undefined;
  const { remembered, same, sent } = await withRemembered(principal, name === 'seals' ? [] : ['instruments'], request);
  const seen = await lastSeenFor(principal, sent.problem, code);
  const pack = await findRecord(readerOf(principal), 'pack', code);
  if (!step || !pack) return unknown(step ? 'pack' : 'step', step ? code : name) satisfies Refusal;
  const houseContext = await formContext(principal);
  const recheck = name === 'seals' ? await sealRecheck(readerOf(principal), code) : undefined;
  // A value that is already recorded is corrected, with a reason, and not asked again; the list of instruments may
  // grow.
  const openGroups = step.groups.map((group) => ({
    ...group,
    names: group.names.filter(
      (each) =>
        each === 'instruments' ||
        recheck ||
        // Where no seal failed there are no jars to say anything of.
        (!(each === 'sealsOutcome' && pack.body.sealsFailed === 0) &&
          pack.typed[each] === undefined &&
          (each !== 'sealsAt' || pack.typed['sealsFailed'] === undefined)),
    ),
  }));
  const names = step.groups.flatMap((group) => group.names);
  const openNames = openGroups.flatMap((group) => group.names);
  return {
    title: `${step.title}, ${code}`,
    here: 'packs',
    crumb: { href: `/lots/${code}`, text: code },
    sentence: `${recheck ? `${recheck.sentence} ` : ''}${step.sentence}${name === 'finish' ? countedText(highestJarRead(pack.body)) : ''}`,
    ...(name === 'finish' && validReadings(pack.body).length === 0 ? noReadingNotice(code) : {}),
    recorded: recordedValues(principal, pack, {
      ...{ kind: 'pack', id: code, fields: packUnderwayFields },
      names: recheck ? [] : names.filter((each) => !openNames.includes(each)),
    }),
    cautions: cautionsFor(step.caution),
    form: !openNames.some((each) => each !== 'instruments')
      ? undefined
      : {
          action: `/packs/${code}/${name}`,
          takesPhoto: true,
          submitLabel: step.submitLabel,
          second: name === 'finish' && validReadings(pack.body).length === 0,
          draft: `${name}-${code}`,
          same,
          ...seen,
          problem: problemView(sent.problem, packUnderwayFields),
          groups: formGroups(packUnderwayFields, openGroups, houseContext, sent, {
            remembered,
            needed: name === 'finish' ? ['jars'] : [],
            // Seals are entered as they are counted; the time is another where they were counted before.
            ...(name === 'seals' ? { when: 'live' as const } : {}),
          }),
        },
  };
}

/** Without a reading every jar is held; one of the last, which is the coldest, is read while it is hot. */
const noReadingNotice = (code: string) => ({
  lotStatus: {
    state: 'open',
    holds: ['No jar was read. Read the last one while it is hot: without a reading, all jars are held.'],
    first: { href: `/lots/${encodeURIComponent(code)}#fill`, text: 'Read the last jar' },
  },
});

/** The quick form's count is shown but not filled in: more jars may have been capped since. */
const countedText = (jars: number): string =>
  jars === 0 ? '' : ` The pad counted ${many(jars, 'jar')} at the last reading.`;
