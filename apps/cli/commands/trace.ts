import type { WriteContext } from '#libs/actions/record/write-context.js';
import { invalid, isRefusal, type Refusal } from '#libs/actions/record/problem.js';
import { signatureSentences } from '#libs/records/signatures.js';
import type { StateExplanation } from '#libs/actions/lots/explain-state.js';
import { jarsDownstream, type TracedJar } from '#libs/actions/jars/jars-downstream.js';
import { type Trace, traceLot } from '#libs/actions/lots/trace-lot.js';
import { formatMethod } from '#libs/actions/jars/jar-removals.js';
import { type SyrupShare, loadSyrupShares } from '#libs/actions/facts/syrup-shares.js';
import { findLot, findRecord, type Lot } from '#libs/store/queries/lots.js';
import { formatUncovered } from '#libs/syrup/jars/uncovered-jars.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { catalogueEntry } from '../catalogue.js';
import type { Command, CommandOutput } from '../command.js';
import { volumeText } from '#libs/format/format-house-volume.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export const trace: Command = {
  ...catalogueEntry('trace'),
  options: { down: 'flag', why: 'flag' },
  optionHelp: {
    down: 'Also every jar made from it, and where each was sent.',
    why: 'Also why the lot is open, held, released or recalled: each hold rule, what satisfied it and what was not recorded.',
  },
  run: async (cli) => {
    const [code, ...more] = cli.argv;
    if (code === undefined || more.length > 0)
      return invalid('code', 'one jar or lot code like K7QM-3XWT or 26077A', cli.argv.join(' ') || 'nothing');
    const book = await cli.book();
    const { sugarhouse } = cli.writeContext;
    return book.snapshot(async (sql) => {
      const traced = await traceLot({ sql, sugarhouse }, code, cli.now, { members: true });
      if ('problem' in traced) return traced;
      const pack = traced.pack === null ? undefined : await findLot({ sql, sugarhouse }, traced.pack);
      const shares = pack ? await loadSyrupShares({ sql, sugarhouse }, pack) : [];
      const why = cli.options['why'] === true ? await explain(sql, cli.writeContext, traced) : undefined;
      if (why && 'problem' in why) return why;
      const output = {
        json: { ...traced, shares, ...(why && { why: why.why }) },
        lines: [...traceLines(traced, shares, pack, await litresFormatter({ sql, sugarhouse })), ...(why?.lines ?? [])],
      };
      if (cli.options['down'] !== true) return output;
      const forEachRow: NonNullable<CommandOutput['rows']>['forEachRow'] = (emit) =>
        book.snapshot(async (snapshot) => {
          for await (const jar of jarsDownstream(sugarhouseReader(snapshot, sugarhouse), packsDownstream(traced)))
            await emit({ json: jar, line: jarLine(jar) });
        });
      return { ...output, lines: [...output.lines, ''], rows: { name: 'jarList', forEachRow } };
    });
  },
};

/** Loaded here, since only --why judges: the rules are a third of what a trace would load. */
async function explain(
  sql: Sql,
  context: WriteContext,
  traced: Trace,
): Promise<{ readonly why: StateExplanation; readonly lines: string[] } | Refusal> {
  const { loadJudgingContext } = await import('#libs/actions/judging/judge-now.js');
  const { explainState, explanationLines } = await import('#libs/actions/lots/explain-state.js');
  const why = await explainState(await loadJudgingContext(sql, context), traced.pack ?? traced.code);
  return 'problem' in why ? why : { why, lines: formatWhy(why, explanationLines(why)) };
}

const formatWhy = (why: StateExplanation, lines: readonly string[]): string[] => [
  '',
  ...lines,
  ...signatureSentences(why.signatures, why.kind).map((sentence) => `  ${sentence}`),
];

const jarLine = (jar: TracedJar): string =>
  `  ${jar.code}  ${jar.pack} no. ${jar.n}${jar.dispatches.length > 0 ? `  sent: ${jar.dispatches.join(', ')}` : ''}`;

const packsDownstream = (traced: Trace): string[] =>
  traced.pack ? [traced.pack] : traced.packs.map((pack) => pack.lot);

/** Writes litres in the sugarhouse's own unit, as its pages do: `12.5 gal`, `40 L`. */
type FormatLitres = (litres: number) => string;

/** The rules of the place, which say whether a gallon needs “US”, are loaded only where a place and gallons are chosen. */
async function litresFormatter(reader: SugarhouseReader): Promise<FormatLitres> {
  const house = (await findRecord(reader, 'house', 'house'))?.body;
  const volumes = house?.volumes ?? 'gal';
  let canada = false;
  if (house?.place && volumes === 'gal') {
    const { placeRules } = await import('#libs/actions/places/places.js');
    const place = placeRules(house.place);
    canada = !isRefusal(place) && place.canada;
  }
  return (litres) => `${litres < 0 ? '−' : ''}${volumeText(Math.abs(litres) * 1000, volumes, canada)}`;
}

/** For a pack or its jar, `shares` is how much of its syrup each boil gave, the largest share first. */
function traceLines(
  traced: Trace,
  shares: readonly SyrupShare[],
  pack: Lot | undefined,
  volume: FormatLitres,
): string[] {
  const readings = { made: pack?.jars, wereRead: (pack?.verdict?.lowestFill ?? null) !== null };
  const { jars, syrupLitres: syrup } = traced;
  const counted = jars.unaccounted === null ? 'not counted yet' : `${jars.unaccounted} unaccounted for`;
  const dispatchIds = new Set(traced.dispatches.map((each) => each.id));
  return [
    `${traced.jar?.printed ?? traced.code}: ${traced.kind === 'jar' ? `jar ${traced.jar?.n} of ${traced.pack}` : traced.kind}, ${traced.status}`,
    ...(traced.uncoveredJars.length > 0 ? [`  ${formatUncovered(traced.uncoveredJars, readings)}`] : []),
    `  boils: ${traced.boils.join(', ') || 'none'}`,
    ...(shares.length > 0
      ? [`  syrup from: ${shares.map((each) => `${each.lot} ${Math.round(each.part * 100)} %`).join(', ')}`]
      : []),
    `  sap: ${traced.gatherings.join(', ') || 'none'}`,
    ...(traced.members ?? []).map(
      (each) =>
        `  ${each.shown}, bought from ${each.name} (${each.receipt}): ${each.lot === null ? 'no such lot in its book' : `boils ${each.boils.join(', ') || 'none'}; sap ${each.gatherings.join(', ') || 'none'}`}`,
    ),
    ...traced.packs
      .filter((pack) => pack.lot !== traced.pack)
      .map((pack) => `  pack ${pack.lot}: ${pack.jars.made} × ${pack.container}, ${pack.status}`),
    `  jars: ${jars.made} made, ${jars.onHand} on hand, ${jars.sentOut} sent out, ${jars.destroyed} destroyed, ${jars.other} kept, sampled or broken, ${counted}`,
    `  ${traced.kind === 'sap' ? 'sap' : 'syrup'}: ${volume(syrup.there)} in all, ${volume(syrup.left)} left, ${volume(syrup.inJars)} in jars${syrup.spent > 0 ? `, ${volume(syrup.spent)} used or thrown out` : ''}, ${volume(syrup.lost)} ${traced.kind === 'sap' ? 'boiled away' : 'not in jars (shrinkage, filters, the kettle, or left over)'}`,
    ...traced.dispatches.map(
      (each) =>
        `  ${each.planned ? 'planned' : each.kind} ${each.id}: ${each.jars} of ${each.lot} to ${each.to}, ${each.sentAt.slice(0, 10)}`,
    ),
    ...traced.actions.map(
      (each) =>
        `  ${formatMethod(each.way)} by ${each.id}: ${each.count} of ${each.lot} (${each.jars}), ${each.at.slice(0, 10)} ${each.by}`,
    ),
    ...(traced.jar?.maybeAmong.some((id) => dispatchIds.has(id))
      ? [`  this jar may be among those of ${traced.jar.maybeAmong.join(', ')}, which was recorded as a number of jars`]
      : []),
  ];
}
