import { spawnSync } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { packageRoot } from '#libs/package-root.js';
import { exportRecord } from '#libs/store/log/export-record.js';
import { openBook, type Book } from '#libs/store/book.js';
import { openBesideBook, type BookLocation } from '#libs/store/connection/engine.js';
import { readHead } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { type Random, randomFrom } from '../../generator/random.js';
import { checkBook, differenceFrom } from './check-book.js';
import { crashWhileCopying, crashWhileWriting, type Files, readFiles, writeFiles } from './crash-files.js';
import { drawOperation, drawWay } from './draw-operation.js';
import { emptyModel, expect, type Model, type Operation } from './model.js';
import { eveningBegins, type SimulationPlace } from './simulation-place.js';
import type { OperationCounts } from './tally.js';
import { type OperationResult, sendOperation, type Person, type Way } from './send-operation.js';

/** An operation as it was drawn: by whom, which way in, with which key. */
interface Drawn {
  readonly of: Operation;
  readonly way: Way;
  readonly person: Person;
  readonly key: string;
}

/** A seed that failed: the operations up to then, and the difference. */
export class SeedFailed extends Error {}

/**
 * Runs one seed: a dozen operations by people through all ways in, on one or two open books, with crashes, full disks
 * and clock jumps between them. Throws if an answer, a lot or an entry differs from the model.
 */
export async function runSeed(
  place: SimulationPlace,
  seed: number,
  counts: OperationCounts,
  operations = 12,
): Promise<void> {
  const run = await SeedRun.begin(place, seed, counts);
  try {
    for (let n = 1; n <= operations; n++) await run.step(n);
    await run.end();
  } catch (fault) {
    throw new SeedFailed(`seed ${seed}\n${run.done.join('\n')}\n${(fault as Error).message}`, { cause: fault });
  } finally {
    await run.close();
  }
}

class SeedRun {
  readonly done: string[] = [];
  private model: Model = emptyModel();
  private books: Book[] = [];
  private minutes = 0;
  /** A server remembers when it first received a form, so no two runs of a seed may send the same one. */
  private readonly mark = randomUUID();

  private constructor(
    private readonly place: SimulationPlace,
    private readonly random: Random,
    private readonly counts: OperationCounts,
    private location: BookLocation,
    private readonly seed: number,
  ) {}

  static async begin(place: SimulationPlace, seed: number, counts: OperationCounts): Promise<SeedRun> {
    const run = new SeedRun(place, randomFrom(seed * 7919 + 1), counts, await place.freshBook(), seed);
    place.at.clock.now = eveningBegins;
    await run.open();
    return run;
  }

  /** One or two processes with the book open, each with its own connections. */
  private async open(): Promise<void> {
    this.books = [await openBook(this.location)];
    if (this.random.oneIn(2)) this.books.push(await openBook(this.location));
    this.place.use(this.books[0]!);
  }

  async close(): Promise<void> {
    for (const book of this.books.splice(0)) await book.close().catch(() => {});
    if ('file' in this.location)
      for (const end of ['', '-wal', '-shm']) rmSync(this.location.file + end, { force: true });
  }

  async step(n: number): Promise<void> {
    const { random, place } = this;
    this.minutes += random.whole(1, 4);
    place.at.clock.now = new Date(eveningBegins.getTime() + this.minutes * 60_000);
    place.use(random.of(this.books));
    const of = drawOperation(random, this.model, n);
    const drawn = {
      of,
      way: drawWay(random, of),
      person: random.of([...place.people, ...place.people.slice(0, 2)]),
      key: `${this.mark}-${n}`,
    };
    const what = random.whole(1, 24);
    this.done.push(`${n} +${this.minutes} min ${drawn.way} ${drawn.person.role} ${JSON.stringify(of)}`);
    if (what === 1) await this.clockJumps(drawn);
    if (what === 2 && 'file' in this.location) return this.diskIsFull(drawn);
    if (what <= 5) return this.crashes(drawn);
    await this.runOperation(drawn);
    // The same again, as a phone sends it that got no answer: nothing is written twice.
    if (what === 6 && hasKey(drawn)) await this.sendAgain(drawn);
  }

  /** Separate random numbers: the pages written depend on random codes, which must not change the next operations. */
  private readonly disk = (): Random => randomFrom(this.seed * 104_729 + this.minutes);

  private expected({ of, person, way }: Drawn): OperationResult['outcome'] {
    // The command line acts for the owner of the machine.
    return expect(this.model, way === 'command' ? 'owner' : person.role, of, {
      byFile: way === 'import' && inFiles.includes(of.what),
      byQuickForm: way === 'page',
    });
  }

  private async runOperation(drawn: Drawn): Promise<void> {
    const expected = this.expected(drawn);
    this.checkOutcome(drawn, expected, await this.send(drawn));
    await this.check();
  }

  private async send({ way, person, of, key }: Drawn): Promise<OperationResult> {
    this.counts.operations++;
    return sendOperation(way, this.place, person, of, key);
  }

  private checkOutcome(drawn: Drawn, expected: OperationResult['outcome'], result: OperationResult): void {
    if (result.outcome !== expected)
      throw new Error(
        `${drawn.way} by ${drawn.person.role}: expected ${expected}, got ${result.outcome}: ${result.text}`,
      );
    if (expected !== 'taken') this.counts.refused++;
  }

  private async sendAgain(drawn: Drawn): Promise<void> {
    const result = await this.send(drawn);
    const step = this.done.push('  sent again');
    if (result.outcome === 'lost') throw new Error(`sent again (${step}): ${result.text}`);
    await this.check();
  }

  /**
   * The clock jumps back by an hour, or on by twelve years (a session ends before; a key and the terminal don't):
   * nothing is written, whoever sends it and however. Once the clock is right, the same is sent again.
   */
  private async clockJumps(drawn: Drawn): Promise<void> {
    const { clock } = this.place.at;
    const right = clock.now;
    const jumpMs = drawn.way === 'page' ? -3_600_000 : this.random.of([-3_600_000, 12 * 366 * 86_400_000]);
    clock.now = new Date(right.getTime() + jumpMs);
    const saved = structuredClone(this.model);
    const wouldBe = this.expected(drawn);
    this.model = saved;
    const result = await this.send(drawn);
    clock.now = right;
    this.counts.clockJumps++;
    this.done.push('  at the wrong time');
    const isRefused =
      wouldBe === 'taken' || wouldBe === 'refused' ? result.outcome === 'refused' : result.outcome !== 'taken';
    if (!isRefused) throw new Error(`with the clock wrong: ${result.outcome} ${result.text}`);
    await this.check();
  }

  /** The file can't grow: whatever needs another page is refused with a sentence, and accepted once there is room. */
  private async diskIsFull(drawn: Drawn): Promise<void> {
    const book = this.place.book();
    const room = (pages: string) => book.writeHousehold((sql) => sql.statement(`PRAGMA max_page_count = ${pages}`));
    const [{ page_count: pages } = { page_count: 0 }] = await book.read.statement<{ page_count: number }>(
      'PRAGMA page_count',
    );
    await room(String(pages));
    const saved = structuredClone(this.model);
    const expected = this.expected(drawn);
    const result = await this.send(drawn);
    await room('1073741823');
    this.counts.fullDisks++;
    this.done.push(`  on a full disk: ${result.outcome}`);
    if (result.outcome !== 'full') {
      this.checkOutcome(drawn, expected, result);
      return this.check();
    }
    this.model = saved;
    await this.check();
    await this.runOperation(drawn);
  }

  /** The power fails while the operation is written, or while the written pages are copied into the file. */
  private async crashes(drawn: Drawn): Promise<void> {
    this.counts.crashes++;
    if (!('file' in this.location)) return this.connectionsBreak(drawn);
    const isCopying = this.random.oneIn(3);
    if (isCopying) {
      await this.runOperation(drawn);
      const before = readFiles(this.location.file);
      await checkpoint(this.location.file);
      await this.comesBack(
        crashWhileCopying(this.disk(), before, readFiles(this.location.file)),
        this.model,
        'while copying',
      );
      return;
    }
    // Sometimes the log restarts during the operation.
    if (this.random.oneIn(3)) await checkpoint(this.location.file);
    const before = readFiles(this.location.file);
    const saved = structuredClone(this.model);
    const expected = this.expected(drawn);
    this.checkOutcome(drawn, expected, await this.send(drawn));
    const after = readFiles(this.location.file);
    // The program's own checkpoint result in between: then the file's content is kept.
    const isWhole = !before.database.equals(after.database);
    const files = isWhole ? after : crashWhileWriting(this.disk(), before, after);
    const isStored = await this.comesBack(files, isWhole ? this.model : saved, 'while writing');
    // A client without an answer sends it again.
    if (!hasKey(drawn) || expected !== 'taken') return;
    if (isStored) return this.sendAgain(drawn);
    this.done.push('  sent after the crash');
    await this.runOperation(drawn);
  }

  /** Returns whether the last operation was kept; `atLeast` is the book without it. */
  private async comesBack(files: Files, atLeast: Model, when: string): Promise<boolean> {
    const whole = this.model;
    await this.close();
    this.location = { file: this.place.nextFile() };
    writeFiles(this.location.file, files);
    await this.open();
    const { entries } = await readHead(this.books[0]!.read);
    const isStored = entries - this.place.begun === whole.entries;
    if (!isStored) this.counts.lostInCrash++;
    this.model = isStored ? whole : atLeast;
    this.done.push(`  crash ${when}: ${isStored ? 'kept' : 'not kept'}`);
    await this.check();
    return isStored;
  }

  /** PostgreSQL keeps its own files; here all connections to it break during the operation. */
  private async connectionsBreak(drawn: Drawn): Promise<void> {
    const saved = structuredClone(this.model);
    const expected = this.expected(drawn);
    const breaking = this.books[0]!.read.statement(
      'SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()',
    ).catch(() => []);
    const [result] = await Promise.all([this.send(drawn), breaking]);
    const { entries } = await readHead(this.place.book().read);
    const isStored = entries - this.place.begun === this.model.entries;
    this.done.push(`  connections broke: ${result.outcome}, ${isStored ? 'kept' : 'not kept'}`);
    if (result.outcome === 'lost') {
      if (!isStored) this.model = saved;
    } else this.checkOutcome(drawn, expected, result);
    await this.check();
  }

  /** Checked on every open book: another process must see the same. */
  private async check(): Promise<void> {
    for (const book of this.books) {
      const difference = await differenceFrom(book, this.model, this.place.begun);
      if (difference !== undefined) throw new Error(difference);
    }
  }

  async end(): Promise<void> {
    await checkBook(this.books[0]!, this.model);
    const verified = await verifyBook(this.books.at(-1)!);
    if (!verified.ok) throw new Error(`verify: ${verified.firstDifference}`);
    if (this.seed % 25 === 0) await this.verifiesAlone();
  }

  /** Verified with the stand-alone program, as an inspector would. */
  private async verifiesAlone(): Promise<void> {
    const file = join(this.place.folder, 'record.json');
    const text: string[] = [];
    await this.books[0]!.snapshot(async (sql) => {
      for await (const piece of exportRecord(sql, eveningBegins)) text.push(piece);
    });
    writeFileSync(file, text.join(''));
    const verifier = join(packageRoot, 'apps/verifier/verify-record.mjs');
    const { status, stderr } = spawnSync(process.execPath, [verifier, file], { encoding: 'utf8' });
    if (status !== 0) throw new Error(`verified alone: ${stderr}`);
  }
}

/** A file and a command carry no key: what they send is recognised by its id, or becomes another entry. */
const hasKey = ({ way, of }: Drawn): boolean =>
  way === 'page' || way === 'API' || (way === 'import' && !inFiles.includes(of.what));
const inFiles: readonly string[] = ['gather', 'boil', 'pack', 'send', 'count'];

async function checkpoint(file: string): Promise<void> {
  const source = await openBesideBook(file).initialize();
  try {
    await source.query('PRAGMA wal_checkpoint(PASSIVE)');
  } finally {
    await source.destroy();
  }
}
