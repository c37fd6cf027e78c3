import { capital } from '../../text/capital.js';
import { valueItems } from '#libs/actions/record/value-text.js';
import type { CautionPlace } from '#libs/actions/places/cautions.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import { writtenByProgram } from '#libs/actions/kinds/registry.js';
import { supportingRecordKinds } from '#libs/actions/kinds/supporting-records.js';
import { countRecords, recordsOf } from '#libs/store/queries/lots.js';
import type { Offer } from '../../forms/field-view.js';
import { typedOrPicked } from '../../forms/posted.js';
import { withRememberedSupporting } from '../../forms/remembered.js';
import { type FormContext, formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { cautionsFor } from '../../text/cautions.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { clock, dayText } from '../../text/times.js';

const kinds = supportingRecordKinds.filter(({ kind }) => !writtenByProgram.includes(kind));

const sentences: Readonly<Record<string, string>> = {
  check: 'Ice water first: 32 °F, within 2 °F. Then boiling water, against the day’s boiling point.',
  cleaning: 'What was cleaned, with what and how strong. No household detergent, no iodine.',
  complaint: 'Record it in the customer’s words. Hold the lot while you look into it.',
};
const cautionOf: Readonly<Record<string, CautionPlace>> = {
  cleaning: 'clean',
  filter: 'filter',
  equipment: 'equipment',
  check: 'pack',
};

/** The kind of supporting record by its plural, as addresses name it; a refusal where there is none. */
export const supportingRecordKind = (plural: string): Kind | Refusal =>
  kinds.find((kind) => kind.plural === plural) ?? unknown('kind of record', plural);

/** The kinds of supporting records, each with how many there are. */
export async function supportingRecordListPage(principal: Principal) {
  const rows = await Promise.all(
    kinds.map(async (kind) => ({
      kind: kind.kind,
      plural: kind.plural,
      text: capital(kind.plural.replaceAll('-', ' ')),
      noun: kind.noun,
      count: await countRecords(readerOf(principal), kind.kind),
    })),
  );
  return { title: 'Checks, cleaning and supplies', here: '', rows };
}

/** The newest 300 records of one kind. */
export async function supportingRecordKindPage(principal: Principal, kind: Kind) {
  const records = (await recordsOf(readerOf(principal), kind.kind)).reverse().slice(0, 300);
  return {
    title: capital(kind.plural.replaceAll('-', ' ')),
    here: '',
    plural: kind.plural,
    kind: kind.kind,
    noun: kind.noun,
    sentence: sentences[kind.kind],
    rows: records.map((record) => ({
      id: record.id,
      day: dayText(record.at),
      clock: clock(record.at),
      by: record.by,
      details: Object.entries(kind.fields)
        .filter(([name]) => record.typed[name] !== undefined && !['id', 'at', 'by'].includes(name))
        .map(([name, field]) => ({ label: field.label, typed: valueItems(field, record, name).join(' · ') })),
    })),
  };
}

/** The form for a new record of one kind; a check that the quick form of a `pack` asked for leads back to it. */
export async function newSupportingRecordPage(principal: Principal, kind: Kind, request: SubmittedForm, pack = '') {
  const { remembered, same, sent } = await withRememberedSupporting(principal, kind.kind, request);
  const houseContext = await formContext(principal);
  const names = Object.keys(kind.fields);
  const fieldNames = names.filter((name) => !['id', 'at', 'by'].includes(name));
  const backToPad = kind.kind === 'check' && pack !== '';
  const isOther = kind.kind === 'check' && (await isOtherInstrument(principal, request));
  const foldedFields = isOther
    ? ['reads', 'should', 'pressure', 'elevation']
    : kind.kind === 'check'
      ? rarelyUsedCheckFields(request, houseContext)
      : [];
  const ownId = kind.fields['id']?.needed ? ['id'] : [];
  const folded = ['id', 'by'].filter((name) => names.includes(name) && !ownId.includes(name));
  const caution = cautionOf[kind.kind];
  return {
    title: `New ${kind.noun}`,
    here: '',
    crumb: backToPad
      ? { href: `/lots/${encodeURIComponent(pack)}#fill`, text: pack }
      : { href: `/supporting-records/${kind.plural}`, text: capital(kind.plural.replaceAll('-', ' ')) },
    sentence: backToPad ? checkInstruction(request) : isOther ? compareInstruction : sentences[kind.kind],
    cautions: caution ? cautionsFor(caution) : [],
    form: {
      action: `/supporting-records/${kind.plural}/new${backToPad ? `?pack=${encodeURIComponent(pack)}` : ''}`,
      takesPhoto: true,
      submitLabel: 'Save',
      draft: `side-${kind.plural}`,
      same,
      ...(kind.kind === 'check' && !isOther ? { focus: 'reads' } : {}),
      ...(kind.fields['jar'] ? { photo: 'jar' } : {}),
      problem: problemView(sent.problem, kind.fields),
      groups: formGroups(
        kind.fields,
        [
          { names: [...ownId, ...fieldNames.filter((name) => !foldedFields.includes(name)), 'at'] },
          ...(foldedFields.length > 0
            ? [
                {
                  folded: isOther ? 'Temperatures' : 'What it should read, pressure, what was done',
                  names: foldedFields,
                },
              ]
            : []),
          { folded: 'Your own lot number, initials', names: folded },
        ],
        houseContext,
        sent,
        { when: 'live', remembered: kind.kind === 'check' ? withDefaultThermometer(remembered) : remembered },
      ),
    },
  };
}

const checkInstruction = ({ posted }: SubmittedForm): string =>
  posted?.['how'] === 'ice'
    ? 'Stirred in ice and water: 32 °F, within 2 °F.'
    : 'In water at a full boil, against the day’s boiling point.';

const compareInstruction =
  'Compare it with an instrument that is known to be right, or check it as its maker’s instructions say. Then enter whether it reads right.';

/** Whether the check is of a recorded instrument that reads no temperature: a hydrometer, refractometer or scale. */
async function isOtherInstrument(principal: Principal, { posted }: SubmittedForm): Promise<boolean> {
  const id = typedOrPicked(posted ?? {}, 'instrument');
  if (id === '') return false;
  const instrument = (await recordsOf(readerOf(principal), 'instrument')).find((each) => each.id === id);
  return instrument !== undefined && instrument.body.what !== 'thermometer';
}

/** Without the elevation of the house a check in boiling water counts only with the pressure of the day. */
function rarelyUsedCheckFields({ posted }: SubmittedForm, { house }: FormContext): string[] {
  const isPressureNeeded = posted?.['how'] === 'boiling-water' && house?.elevation === undefined;
  return ['should', ...(isPressureNeeded ? [] : ['pressure']), 'elevation', 'fit', 'done'];
}

/** Until a thermometer is recorded, the usual first name is offered. */
const withDefaultThermometer = (remembered: Readonly<Record<string, readonly Offer[]>>) =>
  remembered['instrument']?.length ? remembered : { instrument: [{ value: 'T1', text: 'T1, a first thermometer' }] };
