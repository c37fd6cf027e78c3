import { Session, type Profiler } from 'node:inspector';
import { SourceMap } from 'node:module';
import { type CompiledSource, pureSuite, pureTestFiles, scheme } from './pure-suite.js';

/**
 * Runs the pure tests once and prints which lines and branches of libs/syrup they reached, by the engine's coverage: a
 * branch is a block that ran more or less often than the code around it.
 */
export async function runCoverage(): Promise<number> {
  const session = new Session();
  session.connect();
  await posted(session, 'Profiler.enable');
  await posted(session, 'Profiler.startPreciseCoverage', { callCount: true, detailed: true });
  const suite = await pureSuite();
  const failed = await suite.run(pureTestFiles());
  if (failed) throw new Error(`${failed.test}: ${failed.said}`);
  const { result } = await posted<Profiler.TakePreciseCoverageReturnType>(session, 'Profiler.takePreciseCoverage');
  session.disconnect();
  const reached = suite
    .compiled()
    .filter(({ file }) => file.startsWith('libs/syrup/'))
    .map((source) => reachedIn(source, result.find(({ url }) => url === scheme + source.file)?.functions ?? []));
  for (const { file, lines, missed, branches } of reached.sort((a, b) => a.file.localeCompare(b.file)))
    if (missed.length > 0 || branches.all > branches.reached)
      console.log(
        `${file}: ${lines - missed.length} of ${lines} lines, ${branches.reached} of ${branches.all} branches` +
          (missed.length > 0 ? `; not reached: ${missed.join(' ')}` : ''),
      );
  const sum = (of: (each: Reached) => number): number => reached.reduce((total, each) => total + of(each), 0);
  const [lines, missed] = [sum((each) => each.lines), sum((each) => each.missed.length)];
  const [all, through] = [sum(({ branches }) => branches.all), sum(({ branches }) => branches.reached)];
  const share = (part: number, of: number): string => `${part} of ${of} (${((part / of) * 100).toFixed(1)} %)`;
  console.log(
    `${reached.length} files of libs/syrup: lines ${share(lines - missed, lines)}, branches ${share(through, all)}`,
  );
  return 0;
}

interface Reached {
  readonly file: string;
  readonly lines: number;
  /** Lines of the source that no test reached. */
  readonly missed: readonly number[];
  readonly branches: { readonly all: number; readonly reached: number };
}

function reachedIn({ file, code, map }: CompiledSource, functions: readonly Profiler.FunctionCoverage[]): Reached {
  // Outer ranges first: an inner range overrides them.
  const counts = new Int32Array(code.length).fill(1);
  const outerFirst = [...functions].sort((a, b) => lengthOf(b.ranges[0]) - lengthOf(a.ranges[0]));
  for (const { ranges } of outerFirst)
    for (const { startOffset, endOffset, count } of ranges) counts.fill(count, startOffset, endOffset);
  const sourceMap = new SourceMap(map);
  const isReached = new Map<number, boolean>();
  let offset = 0;
  for (const [index, text] of code.split('\n').entries()) {
    const column = text.search(/[^\s{}()[\];,]/);
    // The first line is the wrapper's.
    const entry: { readonly originalLine?: number } =
      column < 0 || index === 0 ? {} : sourceMap.findEntry(index - 1, column);
    if (entry.originalLine !== undefined) {
      const line = entry.originalLine + 1;
      isReached.set(line, (isReached.get(line) ?? true) && counts[offset + column] !== 0);
    }
    offset += text.length + 1;
  }
  const blocks = functions.filter((each) => each.isBlockCoverage).flatMap((each) => each.ranges.slice(1));
  return {
    file,
    lines: isReached.size,
    missed: [...isReached].flatMap(([line, reached]) => (reached ? [] : [line])).sort((a, b) => a - b),
    branches: { all: blocks.length, reached: blocks.filter(({ count }) => count > 0).length },
  };
}

const lengthOf = (range: Profiler.CoverageRange | undefined): number =>
  range ? range.endOffset - range.startOffset : 0;

const posted = <T = object>(session: Session, method: string, parameters: object = {}): Promise<T> =>
  new Promise((resolve, reject) =>
    session.post(method, parameters, (fault, answer) => (fault ? reject(fault) : resolve(answer as T))),
  );
