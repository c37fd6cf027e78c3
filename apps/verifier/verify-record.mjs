// Recomputes the root and the holds of a Boilbook record from its export. One file for Node 18 or newer that imports
// nothing but Node's own modules and shares no code with the program whose record it checks.
//
//   node verify-record.mjs record.json [--against ROOT --entries N]
//
// Exit status: 0 everything agrees, 4 something differs (each difference in a sentence), 2 not a record's export.
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';

const sha256 = (...parts) => parts.reduce((hash, part) => hash.update(part), createHash('sha256')).digest('hex');
/** RFC 6962, 2.1: leaves are hashed with a zero byte in front, nodes with a one. */
const leafHash = (text) => sha256(Buffer.from([0]), Buffer.from(text));
const nodeHash = (left, right) => sha256(Buffer.from([1]), Buffer.from(left, 'hex'), Buffer.from(right, 'hex'));

/** The Merkle root of leaf hashes (hex), split at the largest power of two below their number. */
function rootOf(leaves) {
  if (leaves.length === 0) return sha256();
  let row = leaves;
  while (row.length > 1)
    row = row.flatMap((left, n) => (n % 2 ? [] : row[n + 1] === undefined ? [left] : [nodeHash(left, row[n + 1])]));
  return row[0];
}

/** Canonical JSON (RFC 8785): keys in the order of their UTF-16 units, numbers and texts as ECMAScript writes them. */
function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  const keys = Object.keys(value).sort();
  return `{${keys.map((key) => `${JSON.stringify(key)}:${canonical(value[key])}`).join(',')}}`;
}

/** An export (`book export`, or the Files page), or the log as JSON lines (`book log`); a string says why it is neither. */
function readRecord(text) {
  try {
    const whole = JSON.parse(text);
    if (whole?.format === 'boilbook-record-1' && Array.isArray(whole.log) && Array.isArray(whole.lots)) return whole;
  } catch {
    // Not one JSON value: perhaps one per line.
  }
  const lines = text.split('\n').filter((line) => line !== '');
  if (lines.length === 0) return 'The file is empty.';
  if (!lines.every((line) => line.startsWith('{"about":['))) return 'The file is not an export of a Boilbook record.';
  return { log: lines.map((line, n) => ({ seq: n + 1, text: line })) };
}

/** Checks the log's own consistency: numbers, order, hashes, canonical text, and references between entries. */
function checkLog(log) {
  const faults = [];
  const numbers = new Set(log.map(({ seq }) => seq));
  const entries = [];
  let expected = 1;
  for (const { seq, leaf, text } of log) {
    if (seq !== expected) {
      faults.push(
        numbers.has(expected)
          ? `Entry ${seq} stands where entry ${expected} belongs: the order was changed.`
          : `Entry ${expected} is missing: entry ${seq} follows instead.`,
      );
    }
    expected = Math.max(expected, seq) + 1;
    const hash = leafHash(String(text));
    if (leaf !== undefined && hash !== leaf)
      faults.push(`Entry ${seq} was changed: the hash of its text is ${hash}, but the export lists ${leaf}.`);
    try {
      const entry = JSON.parse(text);
      if (canonical(entry) !== text) faults.push(`Entry ${seq} was changed: its text is not canonical JSON.`);
      entries.push({ ...entry, seq, about: entry.about ?? [], judged: entry.judged ?? [] });
    } catch {
      faults.push(`Entry ${seq} is not JSON.`);
    }
  }
  return { faults, entries, root: rootOf(log.map(({ text }) => leafHash(String(text)))) };
}

const lotKinds = ['gathering', 'receipt', 'boil', 'pack'];
const nameOf = ({ sugarhouse, lot }) => (sugarhouse === 'home' ? lot : `${lot} of ${sugarhouse}`);
const stopsOf = (verdict) => (verdict?.findings ?? []).filter(({ stop }) => stop);
const rulesOf = (findings) => [...new Set(findings.map(({ rule }) => rule))].join(', ');

/** Replays the entries. Returns the resulting state of each lot, and contradictions that the program never writes. */
function replay(entries) {
  const faults = [];
  const lots = new Map();
  const everLots = new Set();
  const records = new Map();
  const keys = new Map();
  for (const entry of entries) {
    const { seq, deed, sugarhouse, record, voids } = entry;
    const say = (text) => faults.push(`Entry ${seq}: ${text}`);
    const at = (lot) => `${sugarhouse}/${lot}`;
    const key = JSON.stringify([sugarhouse, entry.author, entry.key]);
    if (keys.has(key)) say(`it has the same idempotency key as entry ${keys.get(key)}.`);
    keys.set(key, seq);

    const changed = record ?? voids;
    if (changed) {
      const id = `${sugarhouse}/${changed.kind}/${changed.id}`;
      const before = records.get(id);
      if (entry.corrects !== before)
        say(
          entry.corrects === undefined
            ? `it creates ${changed.kind} ${changed.id}, which entry ${before} had already created.`
            : `it follows entry ${entry.corrects} of ${changed.kind} ${changed.id}, whose last entry here is ${before ?? 'missing'}.`,
        );
      if (voids) records.delete(id);
      else records.set(id, seq);
    }
    if (record && lotKinds.includes(record.kind)) {
      const lot = lots.get(at(record.id));
      lots.set(at(record.id), {
        ...(lot ?? { sugarhouse, lot: record.id, kind: record.kind, state: 'open', marks: [], accepted: [] }),
        body: record.body,
      });
      everLots.add(at(record.id));
    }
    for (const code of entry.about)
      if (!everLots.has(at(code))) say(`it is about lot ${code}, which no earlier entry created.`);
    if (['hold', 'act', 'release', 'recall'].includes(deed))
      for (const code of entry.about) lots.get(at(code))?.marks.push({ deed, seq });
    if (deed === 'release') lots.get(at(entry.about[0]))?.accepted.push(...(entry.said?.accepted ?? []));
    if (record?.kind === 'action' && lots.has(at(record.lot))) lots.get(at(record.lot)).acted = true;
    if (voids && lotKinds.includes(voids.kind)) lots.delete(at(voids.id));
    if (deed === 'hold' && !entry.judged.some(({ lot, state }) => lot === entry.about[0] && state === 'held'))
      say(`it holds ${entry.about[0]}, but the lot is not held after it.`);

    for (const judged of entry.judged) {
      const lot = lots.get(at(judged.lot));
      if (!lot) {
        say(`it judges lot ${judged.lot}, which no earlier entry created.`);
        continue;
      }
      for (const fault of holdFaults(
        entry,
        lot,
        judged,
        acceptedFor(lot, (code) => lots.get(at(code))),
      ))
        say(fault);
      lot.state = judged.state;
      lot.heldSince = judged.heldSince;
      if (judged.verdict) lot.verdict = judged.verdict;
    }
  }
  return { faults, lots };
}

/** What releases accepted of the lot and of the lots that it came from: a release of a boil counts for its packs. */
function acceptedFor(lot, lotOf) {
  const [seen, next] = [new Set(), [lot]];
  for (const each of next) {
    if (!each || seen.has(each)) continue;
    seen.add(each);
    for (const { lot: code } of [...(each.body?.fromLots ?? []), ...(each.body?.carriedFrom ?? [])])
      next.push(lotOf(code));
  }
  return [...seen].flatMap(({ accepted }) => accepted);
}

/** Why a lot can't be in the state that the entry gives, by its findings and its state before. */
function* holdFaults(entry, lot, { state, verdict }, acceptedByReleases) {
  const name = nameOf(lot);
  const stops = stopsOf(verdict);
  const isHeld = state === 'held' || state === 'recalled';
  if (lot.state === 'recalled' && state !== 'recalled') yield `${name} was recalled and is now ${state}.`;
  if (stops.length > 0 && !isHeld) yield `${name} is ${state}, though ${rulesOf(stops)} holds it.`;
  if (verdict?.awaitsRelease && !isHeld) yield `${name} is ${state}, though it needs a release.`;
  for (const { rule, found, accepted } of verdict?.findings ?? [])
    if (accepted && !acceptedByReleases.some((each) => each.rule === rule && each.found === found))
      yield `${name} has ${rule} accepted, but no release accepted it.`;
  if (lot.state === 'held' && !isHeld && entry.deed !== 'release') {
    const last = lot.marks.filter(({ deed }) => deed !== 'recall').at(-1);
    if (last && last.deed !== 'release')
      yield `${name} is ${state}: entry ${last.seq} left it held, and no later entry released it.`;
    if (lot.verdict?.awaitsRelease) yield `${name} is ${state}: it needed a release, and no entry released it.`;
    if (['correct', 'void'].includes(entry.deed) && stopsOf(lot.verdict).length > 0)
      yield `${name} is ${state}: a correction removed ${rulesOf(stopsOf(lot.verdict))}, but a correction opens no lot.`;
  }
  const cold = lot.kind === 'pack' && verdict && !lot.acted ? coldReading(lot.body) : undefined;
  if (cold && !isHeld && !verdict.findings.some(({ accepted }) => accepted))
    yield `${name} is ${state}, though a jar was read at ${cold} when capped, below 180 °F (82 °C).`;
}

/**
 * The one limit that can be judged again from what was typed, without the book's other records: no reading in the jar
 * below 180 °F or 82 °C. A reading whose jars were poured back doesn't count, nor does one of jars beyond the pack's.
 */
function coldReading({ fillTemps = [], jars }) {
  const pouredAt = fillTemps.findLastIndex(({ pouredBack }) => pouredBack);
  const cold = fillTemps.slice(pouredAt + 1).find(({ temperature: { degrees, unit }, jars: named }) => {
    const first = Number(/\d+/.exec(named ?? '')?.[0] ?? 1);
    return degrees < (unit === 'C' ? 82 : 180) && (jars === undefined || first <= jars);
  });
  return cold && `${cold.temperature.degrees} °${cold.temperature.unit}`;
}

/** Compares the export's lots with the lots as replayed. */
function compareLots(listed, lots) {
  const faults = [];
  const seen = new Set();
  for (const each of listed) {
    const key = `${each.sugarhouse}/${each.lot}`;
    const lot = lots.get(key);
    seen.add(key);
    if (!lot) faults.push(`Lot ${nameOf(each)} is listed, but no entry created it.`);
    else if (lot.state !== each.state)
      faults.push(`Lot ${nameOf(each)} is listed as ${each.state}, but by its entries it is ${lot.state}.`);
    else if ((lot.heldSince ?? null) !== (each.heldSince ?? null))
      faults.push(
        `Lot ${nameOf(each)} is listed as held since ${each.heldSince ?? 'never'}, but by its entries since ${lot.heldSince ?? 'never'}.`,
      );
    else if (rulesOf(stopsOf(lot.verdict)) !== (each.holds ?? []).join(', '))
      faults.push(
        `Lot ${nameOf(each)} is listed as held by ${(each.holds ?? []).join(', ') || 'no rule'}, but by its entries by ${rulesOf(stopsOf(lot.verdict)) || 'no rule'}.`,
      );
  }
  for (const [key, lot] of lots)
    if (!seen.has(key)) faults.push(`Lot ${nameOf(lot)} is missing from the list of lots.`);
  return faults;
}

/**
 * The differences, in sentences, and the recomputed figures. `printed` is the root and count from a printed page, if
 * given.
 */
function verify(record, printed) {
  const { faults, entries, root } = checkLog(record.log);
  if (record.entries !== undefined && record.entries !== record.log.length)
    faults.push(`The export states ${record.entries} entries but contains ${record.log.length}.`);
  if (record.root !== undefined && record.root !== root)
    faults.push(`The export states the root ${record.root}, but its entries give ${root}.`);
  if (printed && printed.entries > record.log.length)
    faults.push(`The printed page states ${printed.entries} entries, the export has only ${record.log.length}.`);
  else if (printed) {
    const then = rootOf(record.log.slice(0, printed.entries).map(({ text }) => leafHash(String(text))));
    if (then !== printed.root)
      faults.push(`The first ${printed.entries} entries are not those of the printed page: their root is ${then}.`);
  }
  const replayed = replay(entries);
  faults.push(...replayed.faults);
  if (record.lots) faults.push(...compareLots(record.lots, replayed.lots));
  return { faults, root, entries: record.log.length, lots: [...replayed.lots.values()] };
}

function main(argv) {
  const options = new Map();
  const files = [];
  for (let n = 0; n < argv.length; n++)
    if (argv[n].startsWith('--')) options.set(argv[n], argv[++n] ?? '');
    else files.push(argv[n]);
  const root = options.get('--against');
  const entries = options.get('--entries');
  const isPage = /^[0-9a-f]{64}$/i.test(root ?? '') && /^\d{1,9}$/.test(entries ?? '');
  if (
    files.length !== 1 ||
    [...options.keys()].some((name) => !['--against', '--entries'].includes(name)) ||
    (options.size > 0 && !isPage)
  )
    return refuse(
      'Usage: node verify-record.mjs record.json [--against ROOT --entries N], where ROOT and N were printed together on a page.',
    );
  let record;
  try {
    record = readRecord(readFileSync(files[0], 'utf8'));
  } catch (fault) {
    return refuse(`${files[0]} cannot be read (${fault.code ?? fault.message}).`);
  }
  if (typeof record === 'string') return refuse(record);
  let found;
  try {
    found = verify(record, isPage ? { root: root.toLowerCase(), entries: Number(entries) } : undefined);
  } catch (fault) {
    console.error(
      `Check failed: an entry does not have the form that Boilbook writes, so the record can’t be replayed (${fault.message}).`,
    );
    return 4;
  }
  console.log(`${found.entries} entries, root ${found.root}`);
  for (const lot of found.lots.filter(({ state }) => state === 'held' || state === 'recalled'))
    console.log(
      `${nameOf(lot)} is ${lot.state}${lot.heldSince ? ` since ${lot.heldSince}` : ''}: ${rulesOf(stopsOf(lot.verdict)) || 'by a person'}`,
    );
  if (found.faults.length === 0) {
    const anchor = isPage
      ? 'The record matches the printed page.'
      : 'Compare the root with a printed one (--against): a record rewritten from its first entry passes this check too.';
    console.log(`No difference found. ${anchor}`);
    return 0;
  }
  console.error(`Check failed: ${found.faults.length} ${found.faults.length === 1 ? 'difference' : 'differences'}:`);
  for (const fault of found.faults.slice(0, 20)) console.error(`- ${fault}`);
  if (found.faults.length > 20) console.error(`- and ${found.faults.length - 20} more`);
  return 4;
}

function refuse(sentence) {
  console.error(sentence);
  return 2;
}

process.exitCode = main(process.argv.slice(2));
