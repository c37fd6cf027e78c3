import { mayWrite } from '../../http/may-write.js';
import { type Principal, thermometersFor } from '../../http/principal.js';
import { countLabels, labelCountSentences, type LabelRun } from '#libs/actions/labels/label-count.js';
import { signaturesIn, signatureSentences } from '#libs/records/signatures.js';
import { allGoneText } from '#libs/actions/jars/all-gone.js';
import { clearsJars, packAfterActions, type CurrentPack } from '#libs/actions/facts/pack-after-actions.js';

import { packSyrup } from '#libs/store/queries/syrup-balance.js';
import { balanceFrom } from '#libs/store/queries/jar-balance.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import { utcOf } from '#libs/store/connection/instants.js';
import type { PackAccount } from '#libs/store/queries/pack-accounts.js';
import type { Lot, StoredRecord } from '#libs/store/queries/lots.js';
import { classSwatch, swatch } from '#libs/reports/diagram/swatch.js';
import { judgedMinimum } from '#libs/syrup/labelling/places.js';
import { coldestInJar } from '#libs/syrup/rules/judge-reading.js';
import { formatTemperature, formatDensity } from '#libs/syrup/quantities/format-quantities.js';
import { firstText } from '../../forms/field-view.js';
import { type SubmittedForm, problemView } from '../../forms/form-view.js';
import { failedSealsOnHand } from './failed-seals-on-hand.js';
import { fillPadView, lastFillAt, padFields } from './fill-form-view.js';
import { fillViews } from './fill-views.js';
import { formatUncovered, readingJarSpan } from '#libs/syrup/jars/uncovered-jars.js';
import type { PackProps } from '#pages/lots/pack.js';
import { many, named } from '../../text/amounts.js';
import { volumeText } from '#libs/format/format-house-volume.js';
import { pageOfRows } from '../../text/paged-rows.js';
import { jarRows } from '../../text/jar-rows.js';
import { packSentence } from '../../text/lot-sentence.js';
import { sealsWait } from '../../text/seals-wait.js';
import { clock, dayText } from '../../text/times.js';
import { cautionsFor } from '../../text/cautions.js';
import type { LotContext } from './lot-context.js';
import { awaitsRelease, isClosedByRelease, nextPackAction } from './next-action.js';

/** A pack's part of the page: each fill temperature with its verdict, the density, the jars, and the next steps. */
export async function packProps(context: LotContext, sent: SubmittedForm): Promise<PackProps> {
  const { principal, lot, place, now, query, branches } = context;
  const address = `/lots/${encodeURIComponent(lot.code)}`;
  const [body, account] = [branches.pack(lot.code), branches.account(lot.code)];
  if (!body || !account) throw new Error(`Pack ${lot.code} is in the index without its record`);
  const recorded = context.about('action');
  const actions = recorded.map((each) => each.body);
  const pack = packAfterActions(body, actions);
  const balance = balanceFrom(account, utcOf(principal.writeContext.now));
  const underway = lot.jars === undefined;
  const { destroyed, broken, pouredBack } = balance.parts;
  const isGone = balance.made > 0 && destroyed + broken + pouredBack === balance.made;
  const readsJars = underway || sent.problem !== undefined;
  const thermometers = await thermometersFor(principal, lot.year);
  const pending = pendingMeasurements(lot, pack, underway);
  const labels = underway ? undefined : countLabels(labelRuns(context), lot.jars ?? 0);
  return {
    sentence: packSentence(lot, pack, balance, now),
    underway,
    fills: fillViews(pack, thermometers),
    uncovered: formatUncovered(lot.verdict?.uncovered, {
      made: lot.jars,
      wereRead: pack.fillTemps.some((fill) => readingJarSpan(fill) === undefined),
    }),
    failedSeals: underway ? undefined : failedSealsOnHand(principal, lot.code, { pack: body, actions, balance }),
    syrupLeft: underway ? undefined : syrupLeft(context, account),
    lastFill: lastFillAt(pack),
    fillForm: readsJars ? fillPadView(context, pack, { code: lot.code, now, thermometers }, sent) : undefined,
    problem: problemView(sent.problem, padFields),
    verdictOf: fillVerdict(lot, underway),
    readings: readingRows(lot, pack, judgedMinimum(place, pack.container.volume.millilitres).value),
    container: pack.container.typed,
    packed: `${dayText(pack.packedAt, now)} ${clock(pack.packedAt)}`,
    colour: colourView(lot, pack),
    balance: underway ? undefined : jarRows(balance),
    retained: retainedText(account, utcOf(principal.writeContext.now)),
    labels: labels ? labelCountSentences(labels) : [],
    ...lotsBeside(account, query, address),
    pending,
    next: nextPackAction(principal, lot, {
      underway,
      pending,
      labels,
      onHand: balance.onHand,
      sentOut: balance.sentOut + balance.parts.sample,
      isGone,
    }),
    ...(isGone && lot.state === 'held'
      ? {
          isGone,
          remedy: isClosedByRelease(lot) ? allGoneText : 'No jar of it is left: nothing more to do.',
        }
      : {}),
    ...(isGone ? {} : unfinishedAction(principal, lot, recorded)),
    signatures: underway ? [] : formatSignatures(context),
    cautions: underway ? cautionsFor('pack', 'seal') : cautionsFor('seal', 'sell'),
  };
}

/** The lots that went into the pack and the packs poured from it, a page at a time. */
const lotsBeside = ({ into, outOf }: PackAccount, query: LotContext['query'], address: string) => ({
  from: pageOfRows(
    into.map(({ from, typed }) => ({ code: from, typed: typed || 'all of it' })),
    firstText(query['from']),
    { address, param: 'from', noun: 'lot' },
  ),
  pouredInto: pageOfRows(
    outOf.map(({ into: code, typed }) => ({ code, typed })),
    firstText(query['into']),
    { address, param: 'into', noun: 'lot' },
  ),
});

/**
 * A lot entered without an amount counts as used up. Where much less of it is in the jars than was there, syrup is perhaps
 * left, which no other pack could be made from. Under a quarter is shrinkage, filters and kettle: common practice, no source.
 */
function syrupLeft({ principal, lot, measures }: LotContext, { into }: PackAccount) {
  const wholeLots = into.filter(({ typed }) => typed === '');
  const { there, lost } = packSyrup(lot, into);
  if (wholeLots.length === 0 || lost <= there / 4) return undefined;
  const [drawn, inJars] = [there, there - lost].map((each) => volumeText(each, measures.volumes, measures.canada));
  return {
    sentence: `${inJars} of ${drawn} are in jars, and all of ${wholeLots.map(({ from }) => from).join(', ')} counts as used, since no amount was written. If syrup is left, write how much went into this pack.`,
    href: mayWrite(principal, 'correction')
      ? `/records/pack/${encodeURIComponent(lot.code)}/correct?field=fromLots`
      : undefined,
  };
}

/** The newest corrective action of a held lot clears no hold until its cause and its jars are recorded: where to add them. */
function unfinishedAction(principal: Principal, lot: Lot, actions: readonly StoredRecord<'action'>[]) {
  const last = actions.at(-1);
  if (lot.state !== 'held' || !last || clearsJars(last.body) || awaitsRelease(lot)) return {};
  const field = (last.body.cause ?? '').trim() === '' ? 'cause' : 'jars';
  const [what, button] =
    field === 'cause' ? ['its cause is', 'Add the cause'] : ['which jars it is about is', 'Add the jars'];
  return {
    remedy: `Corrective action ${last.id} does not clear the hold: ${what} not recorded.`,
    next: mayWrite(principal, 'correction')
      ? { href: `/records/action/${encodeURIComponent(last.id)}/correct?field=${field}`, text: button }
      : { text: `A maker adds it.` },
  };
}

/** Who filled, released and verified it, and whether that was one person. */
const formatSignatures = ({ about, history, lot }: LotContext): string[] =>
  signatureSentences(
    signaturesIn(
      history,
      lot.code,
      about('verification').map((each) => each.body),
    ),
  );

const labelRuns = ({ about }: LotContext): LabelRun[] => about('labels').map((each) => each.body);

function fillVerdict(lot: Lot, underway: boolean) {
  const stops = lot.verdict?.findings.filter((finding) => finding.stop) ?? [];
  // While jars are still being filled, a missing reading is no finding.
  const relevantStops = underway ? stops.filter((finding) => !finding.rule.endsWith('-not-read')) : stops;
  if (lot.state === 'recalled') return { kind: 'stops', text: 'RECALLED' };
  if (lot.state === 'held' && (!underway || relevantStops.length > 0)) return { kind: 'stops', text: 'may not go out' };
  if (underway) return { kind: 'advice', text: 'being filled' };
  if (sealsWait(lot)) return { kind: 'advice', text: 'seals not checked' };
  return { kind: 'passes', text: 'may go out' };
}

function readingRows(lot: Lot, pack: PackBody, minBrix: number) {
  const { verdict } = lot;
  const low = verdict?.lowestFill;
  const density = pack.densityReading;
  const sample = pack.densityAt ? ` at ${formatTemperature(pack.densityAt)}` : '';
  return [
    low
      ? {
          reading: formatTemperature(low),
          limit: `lowest in the jar; limit ${coldestInJar[low.unit]} °${low.unit} or more`,
          low: low.degrees < coldestInJar[low.unit],
        }
      : { reading: 'not read', limit: 'lowest in the jar; limit 180 °F or 82 °C or more', low: true, word: true },
    density
      ? {
          reading: formatDensity(density),
          limit: `read${sample}${(verdict?.brix ?? null) === null ? '' : `: ${(verdict?.brix ?? 0).toFixed(1)} ± ${(verdict?.brixUncertainty ?? 0).toFixed(1)} °Bx`}; limit ${minBrix.toFixed(1)} °Bx or more`,
        }
      : { reading: 'not read', limit: `density; limit ${minBrix.toFixed(1)} °Bx or more`, low: true, word: true },
    ...(pack.hotPackTemp ? [{ reading: formatTemperature(pack.hotPackTemp), limit: 'in the kettle or filler' }] : []),
    ...(lot.jars === undefined
      ? []
      : [{ reading: String(lot.jars), limit: `${named(lot.jars, 'jar')}, ${pack.container.typed}` }]),
    ...(pack.sealsFailed === undefined
      ? []
      : [
          {
            reading: String(pack.sealsFailed),
            limit: `${named(pack.sealsFailed, 'seal')} failed${pack.sealsOutcome ? `: ${pack.sealsOutcome}` : ''}`,
          },
        ]),
  ];
}

function colourView(lot: Lot, pack: PackBody) {
  const colour = lot.verdict?.colour;
  if (!colour && !pack.transmittance) return undefined;
  const fill = pack.transmittance ? swatch(pack.transmittance.percent) : colour ? classSwatch(colour) : '';
  return {
    fill,
    text: colour ?? '',
    beside: pack.transmittance ? `${pack.transmittance.percent} % at 560 nm` : 'as classed by eye',
  };
}

/** Where the retained samples are kept: needed when a jar of the lot is returned. */
function retainedText({ movements }: PackAccount, nowUtc: string): string {
  const saved = movements.filter((each) => each.kind === 'retained' && each.sentUtc <= nowUtc);
  return saved.map((each) => `${many(each.jars, 'jar')}, ${each.to}`).join('; ');
}

function pendingMeasurements(lot: Lot, pack: CurrentPack, underway: boolean) {
  return {
    density: pack.densityReading === undefined,
    seals:
      !underway &&
      (sealsWait(lot) || pack.sealsFailed === undefined || pack.parts.some(({ sealsNotChecked }) => sealsNotChecked)),
    colour: pack.transmittance === undefined && pack.colourClass === '',
  };
}
