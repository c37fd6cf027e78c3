import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { judgingNow } from '#libs/actions/lots/judged-now.js';
import {
  jarsInSpans,
  labelCautions,
  labelledJars,
  leftOutSentences,
  packToLabel,
  printedBefore,
} from '#libs/actions/labels/label-run.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { invalid, refused } from '#libs/actions/record/problem.js';
import { record } from '#libs/actions/record/record.js';
import { saveLastUsed, lastUsed, tenthsOf } from '#libs/actions/labels/stock-last-used.js';
import { judgeAddress } from '#libs/labels/content/address.js';
import { drawLabels } from '#libs/labels/drawing/draw-labels.js';
import { jarRange } from '#libs/labels/layout/jar-range.js';
import { type DesignName, labelProblemSentences, type PrinterDpi } from '#libs/labels/content/label.js';
import { labelOfPack } from '#libs/actions/labels/label-of-pack.js';
import { missingItems, missingSentence } from '#libs/labels/content/missing-items.js';
import { stocksOf } from '#libs/actions/labels/stocks-of.js';
import type { SymbolKind } from '#libs/labels/symbol/symbol-text.js';
import { described } from '../catalogue.js';
import { type CommandContext, type Command, optionText } from '../command.js';
import { documentMeaning, documentOptions, endingProblem, nameOf, writtenFile } from '../written-file.js';

export const labels: Command = {
  ...described('labels'),
  options: {
    stock: 'text',
    ...documentOptions,
    from: 'text',
    to: 'text',
    skip: 'text',
    dpi: 'text',
    design: 'text',
    right: 'text',
    down: 'text',
    'text-symbol': 'flag',
    gtin: 'text',
  },
  meaning: {
    ...documentMeaning,
    from: 'the first jar, 1 where it is not said',
    to: 'the last jar, the last of the pack where it is not said',
    skip: 'places already used on the first sheet',
    dpi: 'dots an inch of the printer: 203, 300 or 600',
    design: 'ledger, lamp or market',
    right: 'moves all marks right, in mm; as last time on this stock where it is not said',
    down: 'moves all marks down, in mm; as last time where it is not said',
    'text-symbol': 'the symbol says lot, date, maker and phone instead of a link',
    gtin: 'an article number of your own, for a GS1 Digital Link',
  },
  run: async (bench) => {
    const [code] = bench.words;
    if (code === undefined || bench.words.length > 1)
      return invalid('lot', 'one lot code like 26077A-1', bench.words.join(' ') || 'nothing');
    const book = await bench.book();
    const home = bench.desk.sugarhouse;
    const all = await stocksOf(book.read, home);
    const stock = all.find((each) => each.name === optionText(bench, 'stock'));
    if (!stock) return invalid('stock', `one of ${all.map((each) => each.name).join(', ')}`, asTyped(bench, 'stock'));
    const out = optionText(bench, 'out') ?? '';
    const wrong = await endingProblem(out, ['.pdf']);
    if (wrong) return wrong;
    const numbers = wholeNumbers(bench);
    if ('problem' in numbers) return numbers;

    const may = await packToLabel(await judgingNow(book.read, bench.desk), code);
    if ('problem' in may) return may;
    const { lot } = may;
    const houseContext = await loadSugarhouseContext(book.read, bench.desk);
    const content = await labelOfPack(book.read, home, lot, houseContext.place);
    if (!content) throw new Error(`Pack ${lot.code} has no record`);
    const range = jarRange(lot.jars ?? 0, numbers.from, numbers.to);
    if ('problem' in range) return asRefusal(range.problem);
    const { from, to } = range.range;
    const jars = labelledJars(may, range.range);
    if ('problem' in jars) return jars;
    const address = addressOf(bench, houseContext.house?.publicUrl);
    const before = await lastUsed(book.read, home, stock.name);
    const nudge = {
      rightMm: Number(optionText(bench, 'right') ?? (before?.rightTenths ?? 0) / 10),
      downMm: Number(optionText(bench, 'down') ?? (before?.downTenths ?? 0) / 10),
    };
    const run = {
      content,
      stock,
      stocks: all,
      symbol: symbolOf(bench, address.address),
      jars: jarsInSpans(book.read, home, lot.code, jars.spans),
      dpi: (numbers.dpi ?? 300) as PrinterDpi,
      skip: numbers.skip ?? 0,
      createdAt: bench.now,
      ...(optionText(bench, 'design') ? { design: optionText(bench, 'design') as DesignName } : {}),
      nudge,
    };
    const drawn = await writtenFile(bench, (file) => drawLabels(run, file));
    if ('problem' in drawn) return asRefusal(drawn.problem);
    const again = await printedBefore(book.read, home, lot.code, from, to);
    for (const span of jars.spans) {
      const saved = await record(book, bench.desk, kindByName.get('labels')!, {
        lot: lot.code,
        stock: stock.name,
        from: String(span.from),
        to: String(span.to),
        skip: String(run.skip),
        ended: String(drawn.drawn.endedAt),
        what: (await printedBefore(book.read, home, lot.code, span.from, span.to)) ? 'reprinted' : 'printed',
      });
      if ('problem' in saved) return saved;
    }
    const used = { ...tenthsOf(nudge), ended: drawn.drawn.endedAt };
    await book.writeHousehold((sql) => saveLastUsed(sql, home, stock.name, used));
    return {
      json: {
        lot: lot.code,
        from,
        to,
        leftOut: jars.leftOut,
        labels: drawn.drawn.labels,
        pages: drawn.drawn.pages,
        endedAt: drawn.drawn.endedAt,
        reprinted: again,
        file: out,
        address: address.address,
      },
      lines: [
        `${nameOf(out)}: ${drawn.drawn.labels} labels of ${lot.code}, jars ${from} to ${to}, on ${drawn.drawn.pages} ${drawn.drawn.pages === 1 ? 'page' : 'pages'}.`,
      ],
      warnings: [
        ...leftOutSentences(jars),
        ...labelCautions(houseContext),
        ...address.sentences,
        ...drawn.drawn.layout.notes,
        ...missingItems(content, houseContext.place).map(missingSentence),
      ],
    };
  },
};

const asTyped = (bench: CommandContext, option: string): string =>
  optionText(bench, option) ? `"${optionText(bench, option)}"` : 'nothing';

function wholeNumbers(bench: CommandContext) {
  const read: Partial<Record<'from' | 'to' | 'skip' | 'dpi', number>> = {};
  for (const name of ['from', 'to', 'skip', 'dpi'] as const) {
    const text = optionText(bench, name);
    if (text === undefined) continue;
    if (!/^\d{1,7}$/.test(text)) return invalid(name, 'a whole number', `"${text}"`);
    read[name] = Number(text);
  }
  for (const name of ['right', 'down'])
    if (!Number.isFinite(Number(optionText(bench, name) ?? 0)))
      return invalid(name, 'millimetres, like 0.5', asTyped(bench, name));
  const design = optionText(bench, 'design');
  if (design !== undefined && !['ledger', 'lamp', 'market'].includes(design))
    return invalid('design', 'one of ledger, lamp, market', `"${design}"`);
  return read;
}

/** Where no public address was set, the link leads to this machine only, and that is said. */
function addressOf(
  bench: CommandContext,
  saved: string | undefined,
): { address: string; sentences: readonly string[] } {
  const input = bench.settings.publicUrl || saved || '';
  const judged = judgeAddress(input);
  return {
    address: judged.address ?? `http://127.0.0.1:${process.env['BOILBOOK_PORT'] ?? '8066'}`,
    sentences: judged.sentences,
  };
}

function symbolOf(bench: CommandContext, address: string): SymbolKind {
  const gtin = optionText(bench, 'gtin');
  if (gtin) return { kind: 'gs1', address, gtin };
  return bench.options['text-symbol'] === true ? { kind: 'text' } : { kind: 'link', address };
}

function asRefusal(problem: Parameters<typeof labelProblemSentences>[0]) {
  if (problem.kind === 'bad-setting') return invalid(problem.field.toLowerCase(), problem.expected, `"${problem.got}"`);
  return refused(problem.kind, labelProblemSentences(problem).join('\n'));
}
