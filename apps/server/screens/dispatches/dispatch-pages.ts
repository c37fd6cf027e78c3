import { countFields } from '#libs/actions/kinds/count.js';
import { dispatchFields } from '#libs/actions/kinds/dispatch.js';
import type { Fields } from '#libs/actions/record/fields.js';
import { loadNotesOnRecord, type NoteOnRecord } from '#libs/actions/lots/notes-on-record.js';
import { stoppedPlans } from '#libs/actions/season/read-flow.js';
import { momentIn } from '#libs/actions/record/times.js';
import { balancesOf, noJars } from '#libs/store/queries/jar-balance.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { recordsListed } from '#libs/store/queries/lists.js';
import { lotsOf } from '#libs/store/queries/lots.js';
import { formContext, formGroups, type GroupOptions, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { queryPair, withRemembered } from '../../forms/remembered.js';
import { desktopTable } from '../../desktop/desktop-table.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { dispatchesTable } from './dispatches-table.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import { cautionsFor } from '../../text/cautions.js';
import { mayWrite } from '../../http/may-write.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { rowsPerPage, firstRow, listOptions, pagedRows } from '../../text/paged-rows.js';
import { momentText } from '../../text/times.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { FormGroup } from '#pages/parts/field-group.js';

/** Where jars went, newest first, a hundred at a time; planned dispatches come first. */
export async function dispatchesPage(principal: Principal, query: Posted) {
  const { parseOptions: options } = await formContext(principal);
  const now = momentIn(options.zone, principal.writeContext.now);
  const nowUtc = utcOf(principal.writeContext.now);
  const from = firstRow(firstText(query['from']));
  const part = { from, most: rowsPerPage };
  const stopped = await stoppedPlans(readerOf(principal));
  const { count, records } = await recordsListed(readerOf(principal), 'dispatch', part);
  return {
    title: 'Sent out',
    here: 'packs',
    desktop: desktopTable(await dispatchesTable(principal, query), query),
    more: pagedRows(records, from, count, listOptions('/dispatches', 'dispatch', 'dispatches')),
    rows: records.map(({ id, body, atUtc }) => ({
      id,
      lot: body.lot,
      jars: many(body.jars, 'jar'),
      kind: body.kind,
      to: body.to,
      when: momentText(body.sentAt, now),
      planned: stopped.has(id) || atUtc > nowUtc,
    })),
  };
}

/** The form for jars sent out, or returned, by the address. */
export async function dispatchFormPage(principal: Principal, request: SubmittedForm) {
  const { remembered, same, sent } = await withRemembered(principal, ['to'], request);
  const seen = await lastSeenFor(principal, sent.problem);
  const houseContext = await formContext(principal);
  const isReturn = firstText(sent.posted?.['kind']) === 'returned';
  const groups = formGroups(
    isReturn ? returnedFields : dispatchFormFields,
    isReturn ? returnedGroups : dispatchGroups(sent),
    houseContext,
    sent,
    { when: 'live', remembered, needed: ['kind'] },
  );
  return {
    title: isReturn ? 'Take jars back' : 'Send out, keep or take back',
    here: 'packs',
    crumb: { href: '/dispatches', text: 'Sent out' },
    sentence: introduction(principal, isReturn),
    cautions: cautionsFor('sell'),
    notesOnRecord: isReturn ? [] : await notesOfPacks(principal, sent.posted?.['lot']),
    form: {
      action: '/dispatches/new',
      takesPhoto: true,
      submitLabel: 'Save',
      draft: isReturn ? 'returned' : 'send',
      focus: 'jars',
      same,
      keeps: queryPair('lot', request.posted?.['lot']),
      photo: 'jars',
      ...seen,
      problem: problemView(sent.problem, dispatchFields),
      groups: await withPackChoices(principal, groups, sent),
    },
    alternative: isReturn
      ? { href: '/returns', text: 'A jar that a customer found bad?' }
      : { href: '/dispatches/count', text: 'Counting the shelf instead?' },
  };
}

/** How many packs’ notes are shown where nobody chose a pack. */
const mostPacks = 12;

/** The notes of the chosen pack, or of the newest packs with jars on hand where jar codes will tell the pack. */
async function notesOfPacks(principal: Principal, lot: unknown): Promise<NoteOnRecord[]> {
  const reader = readerOf(principal);
  if (typeof lot === 'string' && lot !== '') return loadNotesOnRecord(reader, lot);
  const codes = (await lotsOf(reader, 'pack', undefined, mostPacks)).map(({ code }) => code);
  const balances = await balancesOf(reader, codes, utcOf(principal.writeContext.now));
  const notes = new Map<string, NoteOnRecord>();
  for (const code of codes)
    if ((balances.get(code) ?? noJars).onHand > 0)
      for (const note of await loadNotesOnRecord(reader, code)) notes.set(note.lot, note);
  return [...notes.values()];
}

function introduction(principal: Principal, isReturn: boolean): string {
  if (!mayWrite(principal, 'dispatch'))
    return 'Only a maker can send jars out. Record here the jars of a held lot that have already left: tick the box below.';
  return isReturn
    ? 'Scan the jars one after another, or enter how many. Until somebody inspects them, they are set apart and not sold again.'
    : 'Sold, given, kept, broken, destroyed or returned: record each jar once. A time in the future is a plan.';
}

const optionalLotField = { ...dispatchFields.lot, needed: false, hint: 'Not needed with jar codes' };
const dispatchFormFields: Fields = { ...dispatchFields, lot: optionalLotField };
const returnedFields: Fields = { ...dispatchFormFields, to: { ...dispatchFields.to, label: 'From whom' } };

const dispatchGroups = ({ problem }: SubmittedForm): readonly GroupOptions[] => [
  { names: ['jars', 'lot', 'to', 'kind', 'sentAt'] },
  // Shown after a refusal: whether the jars have already gone. Otherwise the question comes last.
  problem?.kind === 'refused'
    ? { names: ['alreadyLeft'] }
    : { folded: 'Held, but they have already left', names: ['alreadyLeft'] },
  { folded: 'To a laboratory, or returned jars', names: ['laboratory', 'sealed', 'keptHow', 'fromReturned'] },
  contactGroup,
];
const contactGroup = {
  folded: 'Telephone, how to reach them, your own number, initials',
  names: ['telephone', 'contact', 'id', 'by'],
};
const returnedGroups: readonly GroupOptions[] = [
  { names: ['jars', 'lot', 'to', 'kind', 'sentAt'] },
  {
    legend: 'If somebody has inspected them',
    text: 'If blank, Today lists them to inspect. With jar codes, record the sealed ones and the others separately.',
    names: ['sealed', 'keptHow'],
  },
  contactGroup,
];

/** The form for a count of jars on the shelf. */
export async function countPage(principal: Principal, sent: SubmittedForm) {
  const seen = await lastSeenFor(principal, sent.problem);
  const houseContext = await formContext(principal);
  const fields: Fields = { ...countFields, id: { ...countFields.id, needed: false } };
  const groups = formGroups(
    fields,
    [{ names: ['lot', 'jars', 'countedAt'] }, { folded: 'Your own lot number, initials', names: ['id', 'by'] }],
    houseContext,
    sent,
    { when: 'live' },
  );
  return {
    title: 'Count the shelf',
    here: 'packs',
    crumb: { href: '/dispatches', text: 'Sent out' },
    sentence:
      'Enter how many jars of one pack are on the shelf. From then on this count is used, and missing jars are shown as unaccounted for.',
    form: {
      action: '/dispatches/count',
      submitLabel: 'Save count',
      draft: 'count',
      ...seen,
      problem: problemView(sent.problem, fields),
      groups: await withPackChoices(principal, groups, sent),
    },
  };
}

/** More packs than these go into a list that unfolds. */
const maxTiles = 8;

const lotByJarCodes = { value: '', text: 'by the jar codes' };

/** Packs with jars on hand to choose from; a code can be typed instead. */
async function withPackChoices(
  principal: Principal,
  groups: readonly FormGroup[],
  { posted }: SubmittedForm,
): Promise<FormGroup[]> {
  const { read } = principal.book;
  const lots = (await lotsOf(sugarhouseReader(read, principal.writeContext.sugarhouse), 'pack', undefined, 300)).filter(
    (lot) => lot.jars !== undefined,
  );
  const balances = await balancesOf(
    sugarhouseReader(read, principal.writeContext.sugarhouse),
    lots.map((lot) => lot.code),
    utcOf(principal.writeContext.now),
  );
  const typed = typeof posted?.['lot'] === 'string' ? posted['lot'] : '';
  const choices = lots.map((lot) => ({
    value: lot.code,
    text: `${lot.code}, ${lot.container ?? ''}, ${balances.get(lot.code)?.onHand ?? noJars.onHand} on hand${lot.state === 'open' || lot.state === 'released' ? '' : `, ${lot.state.toUpperCase()}`}`,
    chosen: lot.code === typed,
  }));
  if (choices.length === 0 || (typed !== '' && !choices.some((each) => each.chosen))) return [...groups];
  return groups.map((group) => ({
    ...group,
    fields: group.fields.map((field) =>
      field.name === 'lot'
        ? {
            ...field,
            control: choices.length > maxTiles ? 'select' : 'choice',
            choices: field.needed ? choices : [{ ...lotByJarCodes, chosen: typed === '' }, ...choices],
          }
        : field,
    ),
  }));
}
