import type { SupportingRecordBody } from '#libs/records/kinds/supporting-record.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import { textIn } from '#libs/records/kinds/supporting-record.js';
import { recordsForJudging } from './records-for-judging.js';
import { findRecord, type StoredRecord, type Lot } from '#libs/store/queries/lots.js';
import { mouldyRecords } from '#libs/store/queries/mouldy-records.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { lotsDownstream, lotsUpstream, ofKind } from '#libs/store/queries/trace.js';
import {
  judgeSpoilage,
  seenText,
  type JarInspection,
  type Observation,
  type SeenSign,
  type SpoilageFacts,
} from '#libs/syrup/contents/judge-spoilage.js';
import type { QuestionAnswer } from '#libs/syrup/contents/question-answers.js';
import type { NoteSubject } from '#libs/syrup/free-text/notes/find-note-concerns.js';
import { isNoOffFlavour } from '#libs/syrup/free-text/short-answers.js';
import type { SpoilageSign } from '#libs/syrup/free-text/find-spoilage.js';

interface Where {
  readonly sql: Sql;
  readonly sugarhouse: string;
}

/** Loads what was recorded about spoilage of a pack, of its boils, and of packs poured into it. */
export async function loadSpoilageFacts(
  where: Where,
  lot: Lot,
  upstream: readonly Lot[],
  nowUtc: string,
): Promise<SpoilageFacts> {
  const { sql, sugarhouse } = where;
  const observations: Observation[] = [];
  const inspections: JarInspection[] = [];
  const answers: QuestionAnswer[] = [];
  for (const each of [lot, ...ofKind(upstream, 'boil', 'pack')]) {
    const about = await recordsForJudging({ sql, sugarhouse }, each.code);
    observations.push(
      ...(await recordObservations(where, each)).map((observation) => ({
        ...observation,
        isOfJudgedLot: each.code === lot.code,
      })),
      ...about('complaint').map(complaintObservation),
      ...about('action')
        .filter(({ body }) => jarInspection(body) === undefined)
        .map((action) => ({
          ...actionObservation(action),
          ...(each.code === lot.code ? { measuredAgain: subjectsMeasuredAgain(action.body) } : {}),
        })),
    );
    for (const { body, firstSeq } of each.code === lot.code ? about('action') : []) {
      const inspection = jarInspection(body);
      if (inspection) inspections.push({ ...inspection, seq: firstSeq });
    }
    answers.push(
      ...about('answer').flatMap(({ body, firstSeq }) =>
        (body['questions'] as readonly string[]).map((question) => ({
          question,
          answer: String(body['answer']),
          seq: firstSeq,
        })),
      ),
    );
  }
  const destroyed = inspections.length === 0 ? 0 : (await balanceOf({ sql, sugarhouse }, lot.code, nowUtc)).destroyed;
  return { observations, inspections, answers, destroyed, otherPacks: await mouldyOtherPacks(where, lot, upstream) };
}

/** Packs to judge with a sign of spoilage: of the lot, of what was poured from it, and of the boils upstream. */
export async function packsOfSameBoils({ sql, sugarhouse }: Where, lot: string): Promise<string[]> {
  const boils = ofKind(await lotsUpstream({ sql, sugarhouse }, lot), 'boil');
  const packs = new Set<string>();
  for (const code of [lot, ...boils.map((boil) => boil.code)])
    for (const pack of ofKind(await lotsDownstream({ sql, sugarhouse }, code), 'pack')) packs.add(pack.code);
  return [...packs];
}

async function recordObservations({ sql, sugarhouse }: Where, { code, kind }: Lot): Promise<Observation[]> {
  if (kind === 'boil') {
    const boil = await findRecord({ sql, sugarhouse }, 'boil', code);
    return boil?.body.note
      ? [
          {
            about: `boil/${code}`,
            recordName: `boil ${code}`,
            seq: boil.firstSeq,
            texts: [boil.body.note],
            note: boil.body.note,
          },
        ]
      : [];
  }
  const pack = await findRecord({ sql, sugarhouse }, 'pack', code);
  if (!pack) return [];
  const { mould, clarity, offFlavour, sealsOutcome, note, brokenGlass, container, containerPrep } = pack.body;
  return [
    {
      about: `pack/${code}`,
      recordName: `pack ${code}`,
      seq: pack.firstSeq,
      mould,
      texts: [clarity, offFlavour, sealsOutcome, note],
      note,
      containerTexts: [container.kind, containerPrep],
      ...(brokenGlass ? {} : { fillingNote: note }),
    },
  ];
}

function complaintObservation({ id, firstSeq, body }: StoredRecord<'complaint'>): Observation {
  const textField = (name: string): string => (typeof body[name] === 'string' ? body[name] : '');
  const [seal, smell] = [textField('seal'), textField('smell')];
  const answeredSigns: SpoilageSign[] = [
    ...(seal ? (['gas'] as const) : []),
    ...(smell ? (['fermented'] as const) : []),
  ];
  return {
    about: `complaint/${id}`,
    recordName: `complaint ${id}`,
    seq: firstSeq,
    mould: textField('mould'),
    came: textField('came'),
    jar: textField('jar'),
    answeredSigns,
    seen: seenSigns(seal, smell),
    texts: [textField('said'), textField('note')],
    jarRemark: textField('said'),
  };
}

/**
 * Whether what was inspected on a jar (mould, seal, smell, how it came) holds its lot by a rule once it is recorded. Its
 * texts are left out: a question about them is answered with one tap, so whether to hold the lot is still worth asking.
 */
export function inspectionHoldsLot(inspected: Readonly<Record<string, string>>): boolean {
  const { mould = '', came = '', seal = '', smell = '' } = inspected;
  const observations = [{ about: '', recordName: '', seq: 0, mould, came, seen: seenSigns(seal, smell), texts: [] }];
  const findings = judgeSpoilage({ observations, inspections: [], answers: [], destroyed: 0, otherPacks: [] });
  return findings.some(({ stop }) => stop);
}

const seenSigns = (seal: string, smell: string): SeenSign[] =>
  [seal, smell].filter((sign): sign is SeenSign => Object.hasOwn(seenText, sign));

const actionObservation = ({ id, firstSeq, body }: StoredRecord<'action'>): Observation => ({
  about: `action/${id}`,
  recordName: `action ${id}`,
  seq: firstSeq,
  mould: body.mould,
  texts: [body.found, body.done, body.clarity, body.offFlavour, body.sealsOutcome],
});

/** The subjects of a note that an action clears: it filled jars again or took them off sale, measured, or tasted. */
const subjectsMeasuredAgain = ({ way, jars, fillTemps, densityReading, offFlavour }: ActionBody): NoteSubject[] => [
  ...(jars && (fillTemps.length > 0 || way === 'poured-back' || way === 'destroyed') ? (['cold'] as const) : []),
  ...(densityReading ? (['diluted'] as const) : []),
  ...(offFlavour !== '' && isNoOffFlavour(offFlavour) ? (['off'] as const) : []),
];

/** Jars that an action inspected; it needs both counts, for the number of sound ones opens the lot. */
function jarInspection({ jarsMouldy, jarsSound }: ActionBody): Omit<JarInspection, 'seq'> | undefined {
  if (jarsMouldy === undefined || jarsSound === undefined || jarsMouldy + jarsSound === 0) return undefined;
  return { mouldy: jarsMouldy, sound: jarsSound };
}

/** Other packs of the same boils, with their mouldy jars that were returned sealed or found on the shelf. */
async function mouldyOtherPacks(
  { sql, sugarhouse }: Where,
  lot: Lot,
  upstream: readonly Lot[],
): Promise<SpoilageFacts['otherPacks']> {
  const boils = new Set(ofKind(upstream, 'boil').map(({ code }) => code));
  const byLot = new Map<string, { jars: Set<string>; counted: number; seq: number }>();
  for (const record of await mouldyRecords({ sql, sugarhouse })) {
    const fields = record.body as SupportingRecordBody;
    const otherPack = record.lot ?? '';
    if (otherPack === lot.code || upstream.some(({ code }) => code === otherPack)) continue;
    const sum = byLot.get(otherPack) ?? { jars: new Set<string>(), counted: 0, seq: 0 };
    const counted = Number(fields['jarsMouldy'] ?? 0);
    const opened = textIn(fields, 'came').startsWith('opened');
    if (counted === 0 && (opened || fields['mould'] !== 'yes')) continue;
    if (counted === 0) sum.jars.add(textIn(fields, 'jar') || record.id);
    byLot.set(otherPack, { jars: sum.jars, counted: sum.counted + counted, seq: Math.max(sum.seq, record.firstSeq) });
  }
  const otherPacks: { lot: string; mouldy: number; seq: number }[] = [];
  for (const [code, { jars, counted, seq }] of byLot) {
    const shared = (await lotsUpstream({ sql, sugarhouse }, code)).some((each) => boils.has(each.code));
    if (shared) otherPacks.push({ lot: code, mouldy: jars.size + counted, seq });
  }
  return otherPacks;
}
