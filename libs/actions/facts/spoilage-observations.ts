import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findRecord, type StoredRecord, type Lot } from '#libs/store/queries/lots.js';
import {
  judgeSpoilage,
  seenText,
  type JarInspection,
  type Observation,
  type SeenSign,
} from '#libs/syrup/contents/judge-spoilage.js';
import type { QuestionAnswer } from '#libs/syrup/contents/question-answers.js';
import type { NoteSubject } from '#libs/syrup/free-text/notes/find-note-concerns.js';
import { isNoOffFlavour } from '#libs/syrup/free-text/short-answers.js';
import type { SpoilageSign } from '#libs/syrup/free-text/find-spoilage.js';

/** What a boil or pack itself records of its syrup. */
export async function recordObservations(
  { sql, sugarhouse }: SugarhouseReader,
  { code, kind }: Lot,
): Promise<Observation[]> {
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

/** What a complaint reports. */
export function complaintObservation({ id, firstSeq, body }: StoredRecord<'complaint'>): Observation {
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

/** What a corrective action says of the jars. */
export const actionObservation = ({ id, firstSeq, body }: StoredRecord<'action'>): Observation => ({
  about: `action/${id}`,
  recordName: `action ${id}`,
  seq: firstSeq,
  mould: body.mould,
  texts: [body.found, body.done, body.clarity, body.offFlavour, body.sealsOutcome],
});

/** The subjects of a note that an action clears: it filled jars again or took them off sale, measured, tasted, or dealt with failed seals. */
export const subjectsMeasuredAgain = ({
  way,
  jars,
  fillTemps,
  densityReading,
  offFlavour,
  sealsOutcome,
}: ActionBody): NoteSubject[] => [
  ...(jars && (fillTemps.length > 0 || way === 'poured-back' || way === 'destroyed') ? (['cold'] as const) : []),
  ...(densityReading ? (['diluted'] as const) : []),
  ...(sealsOutcome || (jars && (way === 'poured-back' || way === 'destroyed')) ? (['seals'] as const) : []),
  ...(offFlavour !== '' && isNoOffFlavour(offFlavour) ? (['off'] as const) : []),
];

/** Jars that an action inspected; it needs both counts, for the number of sound ones opens the lot. */
export function jarInspection({ jarsMouldy, jarsSound }: ActionBody): Omit<JarInspection, 'seq'> | undefined {
  if (jarsMouldy === undefined || jarsSound === undefined || jarsMouldy + jarsSound === 0) return undefined;
  return { mouldy: jarsMouldy, sound: jarsSound };
}

/** Each question that was answered, with its answer. */
export const questionAnswers = (answers: readonly StoredRecord<'answer'>[]): QuestionAnswer[] =>
  answers.flatMap(({ body, firstSeq }) =>
    (body['questions'] as readonly string[]).map((question) => ({
      question,
      answer: String(body['answer']),
      seq: firstSeq,
    })),
  );
