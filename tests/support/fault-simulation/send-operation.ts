import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import type { Book } from '#libs/store/book.js';
import { findCommand } from '../../../apps/cli/commands.js';
import { columnName } from '#libs/actions/record/fields.js';
import { programOptions } from '../../../apps/cli/program-options.js';
import { type Answered, apiChannel, importChannel, pageChannel } from '../../verdicts/entry-channels.js';
import { act, record, send, type Step, type Texts } from '../../verdicts/verdict-case.js';
import { posted, type TestServer } from '../server.js';
import type { Operation, Outcome, Role } from './model.js';

export type Way = 'page' | 'API' | 'import' | 'command';

/** A person, with a script's key and a session. */
export interface Person {
  readonly initials: string;
  readonly role: Role;
  readonly key: string;
  readonly cookie: string;
}

/**
 * The result of an operation. `full`: the disk had no room; `lost`: the connection broke, and it may be saved or not.
 */
export interface OperationResult {
  readonly outcome: Outcome | 'invalid' | 'full' | 'lost';
  readonly text: string;
}

/**
 * Where operations are sent: a server whose book the simulation replaces, and a folder for the command line's files.
 */
export interface Place {
  readonly at: TestServer;
  readonly folder: string;
  book(): Book;
}

/** Sends an operation by one of the ways in. With the same key it is the same request sent again. */
export async function sendOperation(
  way: Way,
  place: Place,
  person: Person,
  of: Operation,
  key: string,
): Promise<OperationResult> {
  try {
    if (way === 'command') return await byCommand(place, of);
    if (of.what === 'void') return resultOf(await voidBy(way, place, person, of.dispatch, key));
    if (of.what === 'add fill' && way === 'page') return resultOf(await fillByPage(place, person, of, key));
    const principal = { at: place.at, key: person.key, cookie: person.cookie };
    const channel = { page: pageChannel, API: apiChannel, import: importChannel }[way](principal);
    return resultOf(await channel.take(stepOf(of), key));
  } catch (fault) {
    const message = (fault as Error).message;
    if (/SQLITE_FULL/.test(message)) return { outcome: 'full', text: message };
    return { outcome: 'lost', text: message };
  }
}

/** As typed by a person. A helper signs only for themselves, so `by` is left out where it may be. */
function stepOf(of: Exclude<Operation, { what: 'void' }>): Step {
  switch (of.what) {
    case 'gather':
      return record('gatherings', {
        id: of.id,
        gatheredAt: '2026-03-17T16:30',
        source: 'North slope',
        volume: `${of.gallons} gal`,
      });
    case 'boil':
      return record('boils', {
        id: of.id,
        beganAt: '2026-03-18T07:30',
        finishedAt: '2026-03-18T19:00',
        filterTemp: '190 F',
        filterMedium: 'wool cone',
        defoamer: 'none',
        syrupVolume: '300 gal',
        by: 'WE',
      });
    case 'pack':
      return record('packs', {
        id: of.id,
        fromLots: `${of.boil}:${of.jars * 8} fl oz`,
        packedAt: '2026-03-19T10:00',
        densityReading: of.isThin ? '60 Bx' : '67.2 Bx',
        densityAt: '68 F',
        densityBy: 'refractometer',
        container: 'glass jar 8 fl oz',
        jars: String(of.jars),
        ...(of.fill === '' ? {} : { fillTemps: of.fill }),
        sealsFailed: '0',
        by: 'WE',
      });
    case 'add fill':
      return { add: 'packs', to: of.pack, fields: { fillTemps: of.fill } };
    case 'correct fill':
      return { correct: 'pack', of: of.pack, why: 'read the wrong line', fields: { fillTemps: of.fill } };
    case 'act':
      return act({ lot: of.pack, jars: `1-${of.jars}`, fillTemps: `188 F jar ${of.jars}`, at: '' });
    case 'send':
      return send(String(of.jars), { id: of.id, lot: of.pack, ...(of.hasLeft ? { alreadyLeft: 'yes' } : {}) });
    case 'count':
      return record('counts', { id: of.id, lot: of.pack, jars: String(of.jars), countedAt: '2026-04-20T18:00' });
    default:
      return { mark: of.what, lot: of.lot, fields: { why: 'a lid that did not sit' } };
  }
}

const voidBy = async (way: Way, { at }: Place, person: Person, dispatch: string, key: string): Promise<Answered> => {
  const why = 'entered twice';
  const reply =
    way === 'page'
      ? await posted(at, `/records/dispatch/${dispatch}/void`, { _once: key, why }, { cookie: person.cookie })
      : await at.web.inject({
          method: 'POST',
          url: '/api/voids',
          payload: JSON.stringify({ entry: dispatch, why }),
          headers: {
            'content-type': 'application/json',
            authorization: `Bearer ${person.key}`,
            'idempotency-key': key,
          },
        });
  return { taken: [200, 201, 303].includes(reply.statusCode), text: reply.body, status: reply.statusCode };
};

/** As the quick form sends it: one temperature. */
async function fillByPage(
  { at }: Place,
  person: Person,
  of: { pack: string; fill: string },
  key: string,
): Promise<Answered> {
  const fields = { _once: key, temperature: of.fill.replace(' F', ''), 'temperature~unit': 'F' };
  const reply = await posted(at, `/packs/${of.pack}/fill`, fields, { cookie: person.cookie });
  return { taken: reply.statusCode === 303, text: reply.body, status: reply.statusCode };
}

function resultOf({ taken, text, status }: Answered): OperationResult {
  if (taken) return { outcome: 'taken', text };
  const outcomes: Readonly<Record<number, OperationResult['outcome']>> = {
    303: 'forbidden',
    401: 'forbidden',
    403: 'forbidden',
    404: 'unknown',
    409: 'refused',
    412: 'refused',
    422: 'invalid',
    503: 'full',
  };
  return {
    outcome: outcomes[status] ?? 'lost',
    text: `${status} ${text.slice(Math.max(0, text.indexOf('Not saved')), 600 + Math.max(0, text.indexOf('Not saved')))}`,
  };
}

/** The command as `book` runs it, in this process and on the book of the simulation. */
async function byCommand(place: Place, of: Operation): Promise<OperationResult> {
  const [name = '', ...args] = argvOf(place, of);
  const command = await findCommand([name, ...args]);
  if (!command) throw new Error(`There is no command ${name}`);
  const kinds = Object.entries(command.options ?? {});
  const options = Object.fromEntries(
    kinds.map(([option, kind]) => [option, { type: kind === 'flag' ? ('boolean' as const) : ('string' as const) }]),
  );
  const { values, positionals } = parseArgs({
    args,
    options: { ...programOptions, ...options },
    allowPositionals: true,
    strict: true,
  });
  const now = place.at.server.clock();
  const writeContext = { sugarhouse: 'home', by: 'WE', author: 'WE', now, zone: 'America/New_York' };
  const done = await command.run({
    argv: positionals,
    options: values,
    terminal: process,
    settings: place.at.server.settings,
    now,
    book: () => Promise.resolve(place.book()),
    writeContext,
  });
  if (!('problem' in done)) return { outcome: 'taken', text: done.lines.join('\n') };
  const { kind } = done.problem;
  const outcome = kind === 'key-used' || kind === 'changed-since' ? 'refused' : kind;
  return { outcome, text: JSON.stringify(done.problem) };
}

function argvOf({ folder }: Place, of: Operation): string[] {
  if (of.what === 'void') return ['void', of.dispatch, '--why', 'entered twice'];
  const step = stepOf(of);
  if ('void' in step) return ['void', step.of, '--why', step.why];
  if ('mark' in step) return [step.mark, step.lot, '--why', step.fields['why'] ?? ''];
  if ('correct' in step)
    return [
      'correct',
      step.of,
      '--why',
      step.why,
      ...Object.entries(step.fields).map(([field, text]) => `${columnName(field)}=${text}`),
    ];
  if ('add' in step) throw new Error('No command adds to a record');
  if (step.record === 'actions') {
    const { lot = '', ...fields } = step.fields;
    return [
      'act',
      lot,
      ...Object.entries(fields).flatMap(([field, text]) =>
        text === '' ? [] : [`--${columnName(field).replaceAll('_', '-')}`, text],
      ),
    ];
  }
  const file = `${folder}/${step.record}.csv`;
  writeFileSync(file, csvOf(step.fields));
  return ['import', step.record, file];
}

function csvOf(fields: Texts): string {
  const names = Object.keys(fields);
  return `${names.map(columnName).join(',')}\r\n${names.map((name) => `"${(fields[name] ?? '').replaceAll('"', '""')}"`).join(',')}\r\n`;
}
