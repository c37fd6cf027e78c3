import { afterAll, beforeAll, beforeEach } from '@jest/globals';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { record, type RecordOptions } from '#libs/actions/record/record.js';
import type { RecordKind } from '#libs/records/record-types.js';
import type { Book } from '#libs/store/book.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import type { Engine } from './engines.js';
import { done, recordOrThrow, startSeason, sugarhouse, writeContext } from './sugarhouse.js';

/** The pack that every such season begins with. */
export const pack = '26077A-1';

/** The season of `startSeason` on an engine, a fresh copy of it for each test of the suite, and what tests ask of it. */
export function seasonCopies(engine: Engine) {
  let book: Book;
  let copy: () => Promise<Book>;
  beforeAll(async () => {
    await engine.start();
    copy = await engine.copiesOf(startSeason);
  });
  afterAll(() => engine.stop());
  beforeEach(async () => {
    book = await copy();
  });

  const reader = () => sugarhouseReader(book.read, sugarhouse);
  const lot = async (code = pack) => (await findLot(reader(), code))!;
  const findings = async (code = pack) => (await findLot(reader(), code))?.verdict?.findings ?? [];
  const rules = async (isStop: boolean, code: string): Promise<string[]> =>
    (await findings(code)).filter(({ stop }) => stop === isStop).map(({ rule }) => rule);

  const write = async (
    kind: RecordKind,
    sent: Record<string, string>,
    recordOptions: RecordOptions = {},
  ): Promise<string> => done(await record(book, writeContext(), kindByName.get(kind)!, sent, recordOptions)).id;

  return {
    // Read where it is used: each test has a copy of its own.
    get book() {
      return book;
    },
    reader,
    lot,
    findings,
    state: async (code = pack) => (await findLot(reader(), code))?.state,
    /** The rules that hold a lot. */
    stops: (code = pack) => rules(true, code),
    /** The rules that only advise. */
    advice: (code = pack) => rules(false, code),
    /** Records a body as a form sends it. Returns the record’s id. */
    write,
    /** Sends a record again with some fields changed. */
    correct: async (kind: RecordKind, id: string, but: Record<string, string>, why = 'read the wrong line') => {
      const typed = (await findRecord(reader(), kind, id))?.typed;
      await write(kind, { ...typed, ...but }, { of: id, why });
    },
    /** Another pack of the same boil. */
    packMore: (but: Record<string, string | string[]>) =>
      recordOrThrow(book, 'pack', { fromLots: '26077A:1 qt', jars: '4', ...but }),
  };
}
