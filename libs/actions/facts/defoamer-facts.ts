import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import { textIn } from '#libs/records/kinds/supporting-record.js';
import { lastDefoamerAnswered } from '#libs/store/queries/defoamers.js';
import { findRecord, type Lot, recordsOf } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { findAllergenicDefoamers } from '#libs/syrup/free-text/find-defoamers.js';
import type { DefoamerFacts } from '#libs/syrup/contents/judge-defoamer.js';
import type { BoilFacts } from '#libs/syrup/rules/judge-boils.js';
import { isBlank, isNone } from '#libs/syrup/free-text/short-answers.js';
import { defoamersInLog } from './defoamer-lines.js';
import { isBoughtSyrup } from './syrup-origins.js';
import { recordsForJudging } from '../judging/records-for-judging.js';

type LeftBefore = Pick<BoilFacts, 'allergensInPans' | 'unansweredInPans'>;

interface Where {
  readonly sql: Sql;
  readonly sugarhouse: string;
}

/** The facts about a boil's defoamer beyond its own record: its log lines, the bottle, the pans it was boiled in. */
export async function loadDefoamerFacts(
  { sql, sugarhouse }: Where,
  boil: Lot,
  body: BoilBody | undefined,
  inPans: (boil: Lot) => LeftBefore,
): Promise<Pick<BoilFacts, 'defoamersInLog' | 'allergensBefore' | 'allergensInPans' | 'unansweredInPans'>> {
  const inLog = [
    ...defoamersInLog(body?.defoamer ?? '', (await recordsForJudging({ sql, sugarhouse }, boil.code))('line')),
    ...findAllergenicDefoamers(body?.note ?? ''),
  ];
  const isUnanswered = body && !isNone(body.defoamer) && isBlank(body.defoamerAllergens);
  return {
    defoamersInLog: inLog,
    allergensBefore: isUnanswered ? await findEarlierAnswer({ sql, sugarhouse }, body.defoamer, boil.atUtc) : undefined,
    ...inPans(boil),
  };
}

/** The answer given for the same bottle, by its supply record, or for the same name in an earlier boil. */
export async function findEarlierAnswer(
  { sql, sugarhouse }: Where,
  name: string,
  beforeUtc: string,
): Promise<DefoamerFacts['before']> {
  const normalizedName = name.trim().toLowerCase();
  const bottle = (await recordsOf({ sql, sugarhouse }, 'supply')).findLast(
    ({ body }) => textIn(body, 'what').trim().toLowerCase() === normalizedName && !isBlank(textIn(body, 'allergens')),
  );
  if (bottle) return { answer: textIn(bottle.body, 'allergens'), where: `With the bottle, ${bottle.id},` };
  const boil = await lastDefoamerAnswered({ sql, sugarhouse }, normalizedName, beforeUtc);
  return boil && { answer: boil.answer, where: `With boil ${boil.id}` };
}

/** Bought syrup with its seller's answer, and who recorded it. */
interface BoughtSyrup extends DefoamerFacts {
  readonly by: string;
}

/**
 * Bought syrup that went into a pack directly, through packs poured into it, or boiled again. Sap goes into boils and
 * isn't checked; answers given for it are carried on all the same.
 */
export async function boughtSyrupFacts(
  { sql, sugarhouse }: Where,
  pack: Pick<PackBody, 'fromLots'>,
  upstream: readonly Lot[],
): Promise<BoughtSyrup[]> {
  const receipts = upstream.filter(({ kind }) => kind === 'receipt');
  if (receipts.length === 0) return [];
  const poured = new Set(pack.fromLots.map(({ lot }) => lot));
  for (const each of upstream.filter(({ kind }) => kind === 'pack'))
    for (const { lot } of (await findRecord({ sql, sugarhouse }, 'pack', each.code))?.body.fromLots ?? [])
      poured.add(lot);
  const facts: BoughtSyrup[] = [];
  for (const { code } of receipts) {
    const body = (await findRecord({ sql, sugarhouse }, 'receipt', code))?.body;
    const isSap = !poured.has(code) && isBoughtSyrup(body) !== true;
    if (isSap && isBlank(body?.allergens ?? '')) continue;
    facts.push({
      of: `bought syrup ${code}`,
      about: `receipt/${code}`,
      names: [],
      answers: [body?.allergens ?? ''],
      bought: true,
      by: body?.by ?? '',
    });
  }
  return facts;
}
