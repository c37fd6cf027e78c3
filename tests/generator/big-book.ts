import { createHash } from 'node:crypto';
import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { DispatchBody } from '#libs/records/kinds/dispatch.js';
import type { GatheringBody } from '#libs/records/kinds/gathering.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { Portion } from '#libs/records/portion.js';
import { currentRulesPrefix } from '#libs/actions/judging/judge-now.js';
import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import type { Entry, RecordRow } from '#libs/records/entry.js';
import { jarCodeOf } from '#libs/store/log/jar-seeds.js';
import { parseContainer } from '#libs/syrup/quantities/container.js';
import { parseFillReadings } from '#libs/syrup/quantities/fill-readings.js';
import { parseDensity, parseTemperature, parseVolume, type Parsed } from '#libs/syrup/quantities/quantities.js';
import type { Verdict } from '#libs/syrup/rules/verdict.js';
import { letter } from './invented.js';

export interface BigBook {
  readonly entries: number;
  readonly jars: number;
  readonly seconds: number;
  /** Some of the jars, spread over the whole book. */
  readonly someJars: readonly string[];
  /** A boil that is in a tenth of all packs. */
  readonly wideBoil: string;
  /** The newest boil. */
  readonly lastBoil: string;
}

/**
 * Twenty seasons entry by entry, without applying any rule: three packs to a boil, 33 or 34 jars to a pack, two
 * dispatches to every third pack. A tenth of the packs contain a little of one old boil, for a trace with breadth.
 */
export async function writeBigBook(
  book: Book,
  boils: number,
  { atOnce = 400, aSeason: boilsASeason = 500 } = {},
): Promise<BigBook> {
  aSeason = boilsASeason;
  const began = performance.now();
  const codes = new Set<string>();
  const someJars: string[] = [];
  let entries = 0;
  for (let first = 0; first < boils; first += atOnce)
    await book.write(async (page) => {
      for (let n = first; n < Math.min(boils, first + atOnce); n++)
        entries += await writeBoil(page, n, codes, someJars);
      return {};
    });
  return {
    entries,
    jars: codes.size,
    seconds: (performance.now() - began) / 1000,
    someJars,
    wideBoil: boilCode(0),
    lastBoil: boilCode(boils - 1),
  };
}

let aSeason = 500;
const boilCode = (n: number): string => {
  const season = Math.floor(n / aSeason);
  const day = 60 + Math.floor((n % aSeason) / 10);
  return `${String(6 + season).padStart(2, '0')}${String(day).padStart(3, '0')}${letter((n % aSeason) % 10)}`;
};
const dateOf = (n: number, hour: number): string => {
  const season = Math.floor(n / aSeason);
  const at = new Date(Date.UTC(2006 + season, 2, 1 + Math.floor((n % aSeason) / 10), hour));
  return `${at.toISOString().slice(0, 19)}-05:00`;
};

async function writeBoil(page: WriteTransaction, n: number, codes: Set<string>, someJars: string[]): Promise<number> {
  const code = boilCode(n);
  const sap = `G${n + 1}`;
  await append(page, { kind: 'gathering', id: sap, typed: {}, body: gathering(n) }, [sap]);
  await append(page, { kind: 'boil', id: code, typed: {}, body: boil(n, sap) }, [code], { lot: code });
  let entries = 2;
  for (let run = 1; run <= 3; run++) {
    const id = `${code}-${run}`;
    const jars = 33 + (run === 1 ? 1 : 0);
    const seed = createHash('sha256').update(id).digest('hex');
    const skips: [number, number][] = [];
    for (let jar = 1; jar <= jars; jar++) {
      let passedOver = 0;
      while (codes.has(jarCodeOf(seed, jar, passedOver))) passedOver++;
      if (passedOver > 0) skips.push([jar, passedOver]);
      const provided = jarCodeOf(seed, jar, passedOver);
      codes.add(provided);
      if (jar === 1 + (n % 33) && n % 5 === run) someJars.push(provided);
    }
    await append(page, { kind: 'pack', id, typed: {}, body: pack(n, run, jars) }, [id, code], {
      lot: id,
      jars: { pack: id, from: 1, count: jars, seed, skips },
    });
    entries++;
    if (run !== 2) continue;
    const named = [3, 4, 5].map((jar) => jarCodeOf(seed, jar, 0));
    await append(page, { kind: 'dispatch', id: `S${n}`, lot: id, typed: {}, body: dispatch(n, id, 12, []) }, [id]);
    await append(page, { kind: 'dispatch', id: `T${n}`, lot: id, typed: {}, body: dispatch(n, id, 3, named) }, [id]);
    entries += 2;
  }
  return entries;
}

async function append(
  page: WriteTransaction,
  record: RecordRow,
  about: string[],
  more: { lot?: string; jars?: Entry['jars'] } = {},
): Promise<void> {
  const body = record.body as { gatheredAt?: string; beganAt?: string; packedAt?: string; sentAt?: string };
  const at = body.gatheredAt ?? body.beganAt ?? body.packedAt ?? body.sentAt ?? '';
  await page.append({
    format: 1,
    sugarhouse: 'home',
    entryType: 'record',
    by: 'WE',
    happenedAt: at,
    typedAt: at,
    author: 'import',
    key: `${record.kind}:${record.id}`,
    sent: '',
    about,
    record,
    ...(more.jars ? { jars: more.jars } : {}),
    ...(more.lot ? { judged: [{ lot: more.lot, state: 'open', verdict }] } : {}),
  });
}

const value = <T>(parsed: Parsed<T>): T => parsed.value!;
const gallons = (amount: number): Portion & { typed: string } => {
  const volume = value(parseVolume(`${amount} gal`));
  return { lot: '', typed: volume.typed, millilitres: volume.millilitres };
};

const gathering = (n: number): GatheringBody => ({
  gatheredAt: dateOf(n, 4),
  source: 'North slope, buckets',
  volume: value(parseVolume('120 gal')),
  condition: 'clear, cold',
  by: 'OE',
});

const boil = (n: number, sap: string): BoilBody => ({
  beganAt: dateOf(n, 7),
  finishedAt: dateOf(n, 19),
  gatherings: [{ ...gallons(120), lot: sap }],
  // Nine of ten boils of a day continue from what the one before left in the pans.
  carriedFrom: n % 10 === 0 ? [] : [{ ...gallons(0.5), lot: boilCode(n - 1) }],
  filterTemp: value(parseTemperature('190 F')),
  filterMedium: 'wool cone',
  defoamer: 'none',
  defoamerAllergens: '',
  syrupVolume: value(parseVolume('6.5 gal')),
  by: 'WE',
  note: '',
});

const pack = (n: number, run: number, jars: number): PackBody => ({
  fromLots: [
    { ...gallons(2.1), lot: boilCode(n) },
    ...((n * 3 + run) % 10 === 0 && n > 0 ? [{ ...gallons(0.1), lot: boilCode(0) }] : []),
  ],
  packedAt: dateOf(n, 20 + run),
  densityReading: value(parseDensity('67.2 Bx')),
  densityAt: value(parseTemperature('68 F')),
  densityBy: 'refractometer',
  container: value(parseContainer('glass jar 8 fl oz')),
  containerPrep: 'boiled 10 min, filled hot',
  jars,
  fillTemps: value(parseFillReadings('188 F;186 F;185 F')),
  sealsFailed: 0,
  sealsOutcome: '',
  colourClass: 'Amber',
  clarity: 'clear',
  offFlavour: 'none',
  by: 'OE',
  note: '',
});

const dispatch = (n: number, lot: string, jars: number, codes: readonly string[]): DispatchBody => ({
  lot,
  jars,
  codes: [...codes],
  sentAt: dateOf(n, 23),
  to: 'Millrace Green',
  kind: 'sale',
  contact: '',
  by: 'JP',
});

const verdict: Verdict = {
  findings: [],
  // As if judged by today's rules: otherwise Today would judge every pack once.
  rules: `${currentRulesPrefix} not judged: made by a generator`,
  brix: 67.2,
  brixUncertainty: 0.2,
  lowestFill: value(parseTemperature('185 F')),
  colour: 'Amber',
  colourTyped: 'Amber',
  allergens: [],
};
