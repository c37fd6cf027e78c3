import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { columnName } from '#libs/actions/record/fields.js';
import { addKey, addPerson } from '#libs/actions/accounts/accounts.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { entriesOfRecord } from '#libs/store/log/history-of-record.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { commandsNamed } from '../../apps/cli/commands.js';
import { optionName } from '../../apps/cli/field-options.js';
import { programOptions } from '../../apps/cli/program-options.js';
import { startSeason, writeContext, done, recordOrThrow } from '../support/sugarhouse.js';
import { eachKind } from '../support/each-kind.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let at: TestServer;
let cookie: string;
let key: string;
const ids = new Map<RecordKind, string>();
const kinds = [...kindByName.keys()];

beforeAll(async () => {
  at = await startServer();
  at.clock.now = writeContext().now;
  await startSeason(at.book);
  await recordOrThrow(at.book, 'gathering', { id: 'G800', volume: '20 gal' });
  await recordOrThrow(at.book, 'dispatch', { id: 'S800', jars: '1', alreadyLeft: 'yes' });
  for (const kind of kinds)
    ids.set(
      kind,
      kind === 'house'
        ? 'house'
        : done(await record(at.book, writeContext(), kindByName.get(kind)!, eachKind[kind].sent)).id,
    );
  const password = 'steam over the long pan';
  await addPerson(at.book, 'home', { initials: 'OE', name: 'Orrin Ellery', role: 'owner', password });
  cookie = await signedIn(at, 'OE', password);
  const made = await addKey(at.book, 'home', { name: 'kitchen tablet', role: 'owner' }, at.clock.now);
  if ('problem' in made) throw new Error(JSON.stringify(made.problem));
  key = made.key;
}, 60_000);
afterAll(() => at.close());

const correctPage = async (kind: RecordKind) =>
  (await at.web.inject({ url: `/records/${kind}/${ids.get(kind)}/correct?field=all`, headers: { cookie } })).body;
const last = async (kind: RecordKind) =>
  (await entriesOfRecord(sugarhouseReader(at.book.read, 'home'), kind, ids.get(kind) ?? '')).at(-1);

/** Lists that a form shows as rows of boxes: one name, many parts. */
const inRows = new Set(['gatherings', 'carriedFrom', 'fromLots', 'fillTemps', 'instruments']);

describe.each(kinds)('The form that corrects a %s', (kind) => {
  test('has no two boxes of one name except rows of a list, and no program field shares a record field’s name', async () => {
    const html = await correctPage(kind);
    const form = /<form method="post" action="\/records[^]*?<\/form>/.exec(html)?.[0] ?? '';
    const boxes = [...form.matchAll(/<(?:input|select|textarea)\b[^>]*?\bname="([^"]+)"[^>]*>/g)];
    const single = boxes.filter(([tag]) => !/type="(radio|checkbox)"/.test(tag)).map(([, name]) => name);
    expect(single.length).toBeGreaterThan(1);
    const repeated = single.filter((name, index) => single.indexOf(name) !== index);
    expect(repeated.filter((name) => !inRows.has(name ?? ''))).toEqual([]);
    const fields = Object.keys(kindByName.get(kind)!.fields);
    const ofRecord = (name: string): boolean => fields.includes(name.replace(/~(unit|more|ago)$/, ''));
    const ofProgram = [...new Set(boxes.map(([, name = '']) => name))].filter((name) => !ofRecord(name));
    expect(ofProgram.filter((name) => !/^_|~/.test(name))).toEqual([]);
    expect(ofProgram).toContain('correction~why');
  });

  test('keeps the reason beside the record, and every field as it was typed', async () => {
    const [field, text] = eachKind[kind].correct;
    const before = (await findRecord(sugarhouseReader(at.book.read, 'home'), kind, ids.get(kind) ?? ''))?.typed;
    const reason = `read the wrong line of the ${kind}`;
    const unit = / [A-Za-z]+$/.exec(text)?.[0] ?? '';
    const result = { 'correction~why': reason, [field]: text, [`${field}~unit`]: unit.trim() };
    const answer = await posted(at, `/records/${kind}/${ids.get(kind)}/correct`, result, { cookie });
    expect(answer.statusCode).toBe(303);
    expect((await last(kind))?.why).toBe(reason);
    expect((await last(kind))?.record?.typed).toEqual({ ...before, [field]: text });
  });
});

test('without a reason nothing is corrected, and the fault is at the reason’s own box, not at the field named why', async () => {
  const before = await last('spent');
  const url = `/records/spent/${ids.get('spent')}/correct`;
  const answer = await posted(at, url, { why: 'two buckets fell' }, { cookie });
  expect(answer.statusCode).toBe(422);
  expect(answer.body).toMatch(/href="#f-correction~why">Why the record is corrected: enter the reason/);
  expect(answer.body.match(/aria-invalid/g)).toHaveLength(1);
  expect(answer.body).toContain('value="two buckets fell"');
  expect(await last('spent')).toEqual(before);
});

test('a record’s own why is removed by its tick and not by the reason', async () => {
  const url = `/records/spent/${ids.get('spent')}/correct`;
  const result = { 'correction~why': 'nobody wrote one', 'correction~strike': 'why' };
  expect((await posted(at, url, result, { cookie })).statusCode).toBe(303);
  expect(await last('spent')).toMatchObject({ why: 'nobody wrote one' });
  expect((await last('spent'))?.record?.typed).not.toHaveProperty('why');
});

test('over /api a correction’s reason and the record’s own why are separate, and options of a write are no fields', async () => {
  const send = (body: object) =>
    at.web.inject({
      method: 'POST',
      url: '/api/corrections',
      payload: body,
      headers: { authorization: `Bearer ${key}` },
    });
  const entry = (await last('spent'))?.seq;
  expect((await send({ entry, why: 'asked JP', changes: { why: 'a bucket leaked' } })).statusCode).toBe(201);
  expect(await last('spent')).toMatchObject({ why: 'asked JP', record: { typed: { why: 'a bucket leaked' } } });
  for (const name of ['of', 'add', 'entry', 'corrector', 'underway', 'correction~why']) {
    const answer = await send({ entry, why: 'asked JP', changes: { [name]: 'yes' } });
    expect([name, answer.statusCode, answer.body.includes(name)]).toEqual([name, 422, true]);
  }
});

/** What the program adds to a record, or accepts besides its fields. */
const besideARecord = {
  'a body sent to /api': ['underway'],
  'a record of /api': ['ownId', 'entry', 'status', 'findings', 'brix', 'colour', 'rules', 'outcome', 'notes'],
  'a row of a file': ['line', 'column'],
  'a form': [
    'fromPaper',
    'takenAt',
    'upTo',
    'ago',
    'strike',
    'correction~why',
    'correction~strike',
    '_once',
    '_seen',
    '_holds',
  ],
};
test.each(Object.entries(besideARecord))('no record field shares a name with other fields in %s', (_, names) => {
  const fields = kinds.flatMap((kind) => Object.keys(kindByName.get(kind)!.fields));
  expect(fields.filter((name) => names.includes(name) || names.includes(columnName(name)))).toEqual([]);
  expect(fields.filter((name) => /^_|~/.test(name))).toEqual([]);
});

test('on the command line no record field shares a name with an option of every command', async () => {
  const own = Object.keys(programOptions).filter((name) => name !== 'by');
  const fields = kinds.flatMap((kind) => Object.keys(kindByName.get(kind)!.fields).map(optionName));
  expect(fields.filter((name) => own.includes(name))).toEqual([]);
  const ofCommands = (await commandsNamed()).flatMap((command) => Object.keys(command.options ?? {}));
  expect(ofCommands.filter((name) => own.includes(name))).toEqual([]);
});
