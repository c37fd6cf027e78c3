import { recordsAbout } from '#libs/store/queries/lots.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Labels of a pack against its jars. The first label of a jar is printed, every further one printed again. */
export interface LabelCount {
  readonly jars: number;
  readonly printed: number;
  readonly spoiled: number;
  readonly reprinted: number;
}

/** A run that was printed, or labels that were spoiled. */
export interface LabelRun {
  readonly from?: number;
  readonly to?: number;
  readonly what?: string;
}

/** Labels printed and spoiled for a pack of `jars` jars, from its recorded label runs. */
export async function loadLabelCount(reader: SugarhouseReader, pack: string, jars: number): Promise<LabelCount> {
  const runs = await recordsAbout(reader, pack, 'labels');
  return countLabels(
    runs.map((each) => each.body),
    jars,
  );
}

/** The same from label runs that were already read. */
export function countLabels(runs: readonly LabelRun[], jars: number): LabelCount {
  const spans = (spoiled: boolean) =>
    runs
      .filter((run) => (run.what === 'spoiled') === spoiled)
      .map(({ from = 1, to = jars }) => ({ from, to }))
      .filter(({ from, to }) => to >= from)
      .sort((a, b) => a.from - b.from);
  const printedSpans = spans(false);
  let printed = 0;
  let upTo = 0;
  for (const { from, to } of printedSpans) {
    printed += Math.max(0, to - Math.max(from - 1, upTo));
    upTo = Math.max(upTo, to);
  }
  return { jars, printed, spoiled: total(spans(true)), reprinted: total(printedSpans) - printed };
}

/** `31 jars, 31 labels printed, 1 spoiled, 1 printed again`, and whether the count reconciles. */
export function labelCountSentences({ jars, printed, spoiled, reprinted }: LabelCount): string[] {
  if (printed === 0 && spoiled === 0) return [`${counted(jars, 'jar')}, no labels printed yet.`];
  const parts = [counted(jars, 'jar'), `${counted(printed, 'label')} printed`];
  if (spoiled > 0) parts.push(`${spoiled} spoiled`);
  if (reprinted > 0) parts.push(`${reprinted} printed again`);
  const missing = jars - printed;
  const short = spoiled - reprinted;
  return [
    `${parts.join(', ')}.`,
    ...(missing > 0 ? [`${counted(missing, 'jar')} without a label so far.`] : []),
    ...(missing < 0 ? [`${counted(-missing, 'label')} printed for jars that the pack does not have.`] : []),
    ...(short > 0 ? [`${counted(short, 'spoiled label')} not printed again yet.`] : []),
    ...(short < 0
      ? [`${counted(-short, 'label')} more than jars: destroy what is left over and record it as spoiled.`]
      : []),
    ...(missing === 0 && short === 0 ? ['Labels and jars come out even.'] : []),
  ];
}

const total = (spans: readonly { from: number; to: number }[]): number =>
  spans.reduce((sum, { from, to }) => sum + to - from + 1, 0);
const counted = (n: number, noun: string): string => `${n} ${noun}${n === 1 ? '' : 's'}`;
