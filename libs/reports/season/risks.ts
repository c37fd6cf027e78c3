import { lastDayOf } from './licence-text.js';
import type { Season } from './season.js';
import type { Cleaning, Equipment, InstrumentCheck, LeadTest, WaterTest } from './supporting-records.js';
import { day } from '#libs/format/format.js';

/** Something in the record that an inspector asks about, and what is needed. */
export interface Risk {
  readonly matter: 'lead' | 'water' | 'licence' | 'training' | 'instrument' | 'cleaning';
  readonly of: string;
  /** What was recorded, as typed. */
  readonly recorded: string;
  readonly asks: string;
  /** The instrument, equipment or water that a new record must name; null where there is none. */
  readonly subject: string | null;
}

/**
 * Records that point to a hazard, or that are missing. A flag states what was recorded and what is needed; it is no
 * verdict, and a blank is never taken as a pass.
 */
export function risksOf(season: Season): readonly Risk[] {
  const risk: MakeRisk = (matter, of, recorded, asks, subject = null) => ({ matter, of, recorded, asks, subject });
  const { side } = season;
  return [
    ...leadRisks(season, risk),
    ...(side.waterTests.length === 0
      ? [risk('water', 'water', 'no water test recorded', 'test a private well every year')]
      : []),
    ...side.waterTests
      .filter((test) => waterVerdict(test) !== 'clean')
      .map((test) =>
        risk(
          'water',
          test.source,
          `${day(test.at)}: ${test.outcome}`,
          waterVerdict(test) === 'failing'
            ? 'FAILING water test: ask what was done before the water was used'
            : 'the recorded result does not clearly say that the water is clean: ask for the report',
          test.source,
        ),
      ),
    ...licenceRisks(season, risk),
    ...(side.trainings.length === 0
      ? [risk('training', 'people', 'no hygiene training recorded', 'ask who was trained, and when')]
      : []),
    ...side.cleanings.flatMap(({ at, what, withWhat, by, mixed }) =>
      mixed ? [risk('cleaning', `cleaning of ${what}`, `${day(at)}: ${withWhat}, ${by}`, mixedAsks[mixed], what)] : [],
    ),
    ...uncheckedInstruments(season).map(({ id, recorded }) =>
      risk('instrument', id, recorded, 'what it read is not verified', id),
    ),
  ];
}

type MakeRisk = (matter: Risk['matter'], of: string, recorded: string, asks: string, subject?: string | null) => Risk;

/** Equipment that may contain lead, until a test of it is within the limit of the place; and tests over that limit. */
function leadRisks({ side, house }: Season, risk: MakeRisk): Risk[] {
  const limit = house.leadLimitPpb;
  const within = ({ ppb }: LeadTest): boolean => limit !== undefined && ppb <= limit;
  const testText = (test: LeadTest): string => `lead test ${day(test.at)}: ${test.typed}`;
  const equipment = side.equipment.filter(mayHoldLead).flatMap((one) => {
    const last = lastLeadTest(side.leadTests, one);
    if (!last) return [risk('lead', one.name, equipmentText(one), leadAsks, one.id)];
    return within(last)
      ? []
      : [risk('lead', one.name, `${equipmentText(one)}; ${testText(last)}`, overAsks(limit), one.id)];
  });
  const lots = side.leadTests
    .filter((test) => test.lot !== null && !within(test))
    .map((test) => risk('lead', `lot ${test.lot ?? ''}`, testText(test), overAsks(limit)));
  return [...equipment, ...lots];
}

const overAsks = (limit: number | undefined): string =>
  limit === undefined
    ? 'no limit of this place is known: ask the authority'
    : `OVER the ${limit} ppb of the place: ask what was done`;

/** The newest test of this piece, found by its id or its name. */
export const lastLeadTest = (tests: readonly LeadTest[], { id, name }: Pick<Equipment, 'id' | 'name'>) =>
  tests.findLast((test) =>
    [id, name].some((each) => each.trim().toLowerCase() === (test.equipment ?? '').trim().toLowerCase()),
  );

export const leadAsks = 'may contain lead: ask for a lead test of the syrup';

/** The usual caution, from memory; it is printed on the bottles too. */
export const mixedAsks: Readonly<Record<NonNullable<Cleaning['mixed']>, string>> = {
  acid: 'bleach and acid together give off chlorine gas: never mix them, rinse well in between',
  ammonia: 'bleach and ammonia together give off chloramine gas: never mix them, rinse well in between',
};

/** The result of a check as recorded or from its two readings; never a pass where neither is there. */
export const checkText = ({ pass }: Pick<InstrumentCheck, 'pass'>): string =>
  pass === null ? 'not recorded' : pass ? 'in tolerance' : 'OUT OF TOLERANCE';

/**
 * Solder before 1995, galvanized parts before 1994, terneplate, brass and bronze may contain lead: maple extension
 * leaflets, from memory. An unrecorded year counts as old.
 */
export function mayHoldLead({ name, material, solder, year, note }: Equipment): boolean {
  const text = withoutDenied([name, material, solder, note].filter(Boolean).join('; ').toLowerCase());
  const made = Number(/\b(1[89]\d\d|20\d\d)\b/.exec(year ?? '')?.[1] ?? 0);
  if (/\b(?:terne\w*|brass|bronze|lead(?!-?\s?free))\b/.test(text)) return true;
  if (/\bsolder\w*/.test(text) && made < 1995) return true;
  return /\bgalvani[sz]\w*/.test(text) && made < 1994;
}

/** Removes phrases that deny a material: `no solder`, `without brass`, `lead-free solder` and `not soldered`. */
const withoutDenied = (text: string): string =>
  text
    .replace(/\blead[- ]free(?:\s+solder\w*)?/g, ' ')
    .replace(
      /\b(?:no|not|without|never|free of)\s+(?:any\s+)?(?:lead|solder\w*|brass|bronze|galvani[sz]\w*|terne\w*)/g,
      ' ',
    );

const equipmentText = ({ material, solder, year, note }: Equipment): string =>
  [
    material ?? 'material not recorded',
    `solder: ${solder ?? 'not recorded'}`,
    `made ${year ?? 'year not recorded'}`,
    ...(note ? [note] : []),
  ].join(', ');

/**
 * Clean only where the text plainly says so; failing where a clause names a finding. Any other text is unclear and is
 * flagged too.
 */
export function waterVerdict({ outcome }: Pick<WaterTest, 'outcome'>): 'clean' | 'failing' | 'unclear' {
  const text = outcome.toLowerCase().replace(/\be\.?\s*coli\b/g, 'ecoli');
  const clauses = text.split(/[;,.()\n]|\band\b|\bbut\b/).map((clause) => clause.trim());
  const verdicts = clauses.filter((clause) => clause !== '').map(clauseVerdict);
  if (verdicts.includes('failing')) return 'failing';
  return verdicts.includes('clean') ? 'clean' : 'unclear';
}

function clauseVerdict(clause: string): 'clean' | 'failing' | 'unclear' {
  if (/\b(?:unsafe|unsatisfactory|unfit|fail\w*|not (?:safe|potable|satisfactory|clean|absent|passed))\b/.test(clause))
    return 'failing';
  if (/\b(?:no|none|not|nil|zero|absent|absence|negative|without|free of|undetected)\b|<\s*1\b/.test(clause))
    return 'clean';
  if (/\b0\s*(?:mpn|cfu|per|\/)/.test(clause)) return 'clean';
  if (
    /\b(?:ecoli|coliforms?|bacteria|positive|present|found|detected|exceed\w*|contaminat\w*|too high)\b|\d\s*(?:mpn|cfu)\b/.test(
      clause,
    )
  )
    return 'failing';
  return /\b(?:safe|potable|pass(?:ed|es)?|satisfactory|clean)\b/.test(clause) ? 'clean' : 'unclear';
}

function licenceRisks(season: Season, risk: MakeRisk): Risk[] {
  const { licences } = season.side;
  if (licences.length === 0 && season.house.licences.length === 0)
    return [
      risk('licence', 'licence', 'no licence or registration recorded', 'ask the authority whether one is needed'),
    ];
  if (licences.length === 0)
    return season.house.licences
      .filter((each) => lastDayOf(each) === undefined)
      .map((each) => risk('licence', each, 'valid until: not recorded', 'ask to see it'));
  const lastUsed = [season.asOf.slice(0, 4) === String(season.year) ? day(season.asOf) : '']
    .concat(season.lots.map((lot) => day(lot.packedAt)))
    .sort()
    .at(-1);
  return licences.flatMap(({ what, number, until }) => {
    const of = `${what} ${number}`.trim();
    if (until === null) return [risk('licence', of, 'valid until: not recorded', 'ask to see it')];
    const last = lastDayOf(until);
    if (last === undefined) return [risk('licence', of, `valid until: ${until}`, 'not a date: ask to see the licence')];
    return lastUsed !== undefined && last < lastUsed
      ? [risk('licence', of, `valid until ${until}`, 'EXPIRED: ask for the current one')]
      : [];
  });
}

/** Instruments in readings of the season, or in the list, without a check of known result this season. */
export function uncheckedInstruments(season: Season): readonly { readonly id: string; readonly recorded: string }[] {
  const ids = new Map<string, string>();
  for (const one of season.side.instruments)
    if (['thermometer', 'hydrometer', 'refractometer'].includes(one.kind)) ids.set(one.id.toUpperCase(), one.id);
  for (const lot of season.lots)
    for (const { reading } of lot.fills)
      if (reading.instrument && !ids.has(reading.instrument.toUpperCase()))
        ids.set(reading.instrument.toUpperCase(), reading.instrument);
  return [...ids].flatMap(([key, id]) => {
    const checks = season.side.instrumentChecks.filter((check) => check.instrument.toUpperCase() === key);
    const last = checks.at(-1);
    if (!last) return [{ id, recorded: 'no check recorded this season' }];
    if (last.pass === false) return [{ id, recorded: `last check ${day(last.checkedAt)}: out of tolerance` }];
    return checks.some((check) => check.pass === true)
      ? []
      : [{ id, recorded: `check of ${day(last.checkedAt)}: result not recorded` }];
  });
}
