import { z } from 'zod';
import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { judgingNow } from '#libs/actions/lots/judged-now.js';
import { jarsInSpans, labelledJars, packToLabel } from '#libs/actions/labels/label-run.js';
import { invalid, type Refusal, refused } from '#libs/actions/record/problem.js';
import { judgeAddress } from '#libs/labels/content/address.js';
import { drawLabels } from '#libs/labels/drawing/draw-labels.js';
import { jarRange } from '#libs/labels/layout/jar-range.js';
import { mostNudgeMm } from '#libs/labels/drawing/label-run.js';
import { type LabelProblem, labelProblemSentences } from '#libs/labels/content/label.js';
import { labelOfPack } from '#libs/actions/labels/label-of-pack.js';
import { stocksOf } from '#libs/actions/labels/stocks-of.js';
import type { SymbolKind } from '#libs/labels/symbol/symbol-text.js';
import { type Download, download } from '../http/responses.js';
import type { Principal } from '../http/principal.js';

const whole = (most: number) => z.coerce.number().int().min(0).max(most).optional();
const nudge = z.coerce.number().min(-mostNudgeMm).max(mostNudgeMm).default(0);
export const labelQuery = z.object({
  stock: z.string().max(100).optional(),
  from: whole(10_000_000),
  to: whole(10_000_000),
  skip: whole(1000),
  right: nudge,
  down: nudge,
  dpi: z.enum(['203', '300', '600']).default('300'),
  design: z.enum(['ledger', 'lamp', 'market']).optional(),
  symbol: z.enum(['link', 'text']).default('link'),
});
const usualStock = 'letter-30-up-66x25';

/** The labels of a pack as a PDF. Reading only: that they were printed is a record of its own, /api/label-runs. */
export async function labelsOf(
  principal: Principal,
  code: string,
  query: z.infer<typeof labelQuery>,
): Promise<Download | Refusal> {
  const stocks = await stocksOf(principal.book.read, principal.desk.sugarhouse);
  const stock = stocks.find((each) => each.name === (query.stock ?? usualStock));
  if (!stock) return invalid('stock', `one of ${stocks.map((each) => each.name).join(', ')}`, `"${query.stock ?? ''}"`);
  const { read } = principal.book;
  const may = await packToLabel(await judgingNow(read, principal.desk), code);
  if ('problem' in may) return may;
  const { lot } = may;
  const houseContext = await loadSugarhouseContext(read, principal.desk);
  const content = await labelOfPack(read, principal.desk.sugarhouse, lot, houseContext.place);
  if (!content) throw new Error(`Pack ${lot.code} is in the index without its record`);
  const range = jarRange(lot.jars ?? 0, query.from, query.to);
  if ('problem' in range) return asRefusal(range.problem);
  const jars = labelledJars(may, range.range);
  if ('problem' in jars) return jars;
  return download(`labels-${lot.code}.pdf`, 'application/pdf', async (out) => {
    const drawn = await drawLabels(
      {
        content,
        stock,
        symbol: query.symbol === 'text' ? { kind: 'text' } : linkSymbol(principal, houseContext.house?.publicUrl),
        jars: jarsInSpans(read, principal.desk.sugarhouse, lot.code, jars.spans),
        dpi: Number(query.dpi) as 203 | 300 | 600,
        design: query.design,
        skip: query.skip,
        nudge: { rightMm: query.right, downMm: query.down },
        createdAt: principal.desk.now,
      },
      out,
    );
    return 'problem' in drawn ? asRefusal(drawn.problem) : undefined;
  });
}

/** Where no public address was set the link leads to this machine, as the command line's labels do. */
function linkSymbol(principal: Principal, saved: string | undefined): SymbolKind {
  const { publicUrl, port } = principal.server.settings;
  return { kind: 'link', address: judgeAddress(publicUrl || saved).address ?? `http://127.0.0.1:${port}` };
}

function asRefusal(problem: LabelProblem): Refusal {
  if (problem.kind === 'bad-setting') return invalid(problem.field.toLowerCase(), problem.expected, `"${problem.got}"`);
  return refused(problem.kind, labelProblemSentences(problem).join(' '));
}
