import { Readable, type Writable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { formatMethod, loadRemovalLookup } from '#libs/actions/jars/jar-removals.js';
import { jarsDownstream } from '#libs/actions/jars/jars-downstream.js';
import type { Trace } from '#libs/actions/lots/trace-lot.js';
import { safeLine } from '#libs/reports/season/csv.js';
import { packsDownstream } from './jar-rows.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Every jar below a lot and where it went, one line each, streamed: a million of them don't fill the memory. */
export const writeJarsCsv = (reader: SugarhouseReader, trace: Trace, out: Writable): Promise<void> =>
  writeEveryJar(reader, packsDownstream(trace), trace.dispatches, out);

/** The same for any packs, as a recall of several lots reaches them. */
export const writeEveryJar = (
  reader: SugarhouseReader,
  packs: readonly string[],
  dispatches: readonly JarDispatch[],
  out: Writable,
): Promise<void> => pipeline(Readable.from(inBatches(jarLines(reader, packs, dispatches))), out);

interface JarDispatch {
  readonly id: string;
  readonly to: string;
  readonly contact: string | null;
  readonly sentAt: string;
  readonly kind: string;
  readonly planned: boolean;
}

/** Every dispatch of a lot’s jars, one line each. Jars sent by count have no codes. */
export const writeDispatchesCsv = (trace: Trace, out: Writable): Promise<void> =>
  pipeline(Readable.from(inBatches(dispatchLines(trace))), out);

async function* jarLines(
  reader: SugarhouseReader,
  packs: readonly string[],
  dispatches: readonly JarDispatch[],
): AsyncGenerator<string> {
  yield safeLine(['jar', 'lot', 'number', 'dispatches', 'went_to', 'contact', 'sent_at', 'kind']);
  const byId = new Map(dispatches.map((each) => [each.id, each]));
  const takenOff = await loadRemovalLookup(reader, packs);
  for await (const jar of jarsDownstream(reader, packs)) {
    const last = jar.dispatches
      .map((id) => byId.get(id))
      .sort(bySending)
      .at(-1);
    const action = takenOff(jar.pack, jar.n);
    const went = action
      ? [`${formatMethod(action.way)} by ${action.id}, ${action.by}`, '', action.at, formatMethod(action.way)]
      : last
        ? [last.to, last.contact, last.sentAt, last.planned ? 'planned' : last.kind]
        : ['', '', '', ''];
    yield safeLine([jar.code, jar.pack, jar.n, jar.dispatches.join(' '), ...went]);
  }
}

const bySending = (a: { sentAt: string } | undefined, b: { sentAt: string } | undefined): number =>
  Date.parse(a?.sentAt ?? '') - Date.parse(b?.sentAt ?? '');

function* dispatchLines(trace: Trace): Generator<string> {
  yield safeLine(['dispatch', 'lot', 'jars', 'to', 'contact', 'sent_at', 'kind', 'codes']);
  for (const each of trace.dispatches) {
    const kind = each.planned ? 'planned' : each.kind;
    yield safeLine([each.id, each.lot, each.jars, each.to, each.contact, each.sentAt, kind, each.codes.join(' ')]);
  }
}

/** Lines are sent in batches of some hundred: single ones would cost more than reading them. */
async function* inBatches(lines: AsyncIterable<string> | Iterable<string>): AsyncGenerator<string> {
  let part = '';
  for await (const line of lines) {
    part += line;
    if (part.length < 16_384) continue;
    yield part;
    part = '';
  }
  if (part) yield part;
}
