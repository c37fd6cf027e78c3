import { epcisFaults } from './rules.js';
import { dispatchEvent, countEvent, gatheringEvent, receiptEvent } from './objects.js';
import { boilEvent, drawEvent, packEvent, statusEvents, supersededEvents } from './transformations.js';
import { epcisNames, type EpcisEvent } from './event.js';
import type { Season } from '../season/season.js';

export interface EpcisOptions {
  readonly createdAt: Date;
  /**
   * The base address of lots, places and events, such as the one on the labels. A maker without a GS1 licence never
   * invents a GTIN: where labels carry none, every name is an address under this base.
   */
  readonly base?: string;
}

/** A season as one document of the GS1 standard EPCIS 2.0, in JSON-LD. */
export interface EpcisDocument {
  readonly '@context': readonly unknown[];
  readonly type: 'EPCISDocument';
  readonly schemaVersion: '2.0';
  readonly creationDate: string;
  readonly epcisBody: { readonly eventList: readonly EpcisEvent[] };
}

/** `.invalid` is reserved for names that never resolve (RFC 2606). */
const nowhere = 'https://boilbook.invalid';

/** The season as events in order of time. Plans are left out, since they have not happened. */
export function seasonEpcis(season: Season, options: EpcisOptions): EpcisDocument {
  const gtins = season.lots.flatMap(({ lot, gtin }) => (gtin === undefined ? [] : [[lot, gtin] as const]));
  const names = epcisNames((options.base ?? nowhere).replace(/\/+$/, ''), new Map(gtins));
  const named = jarsNamed(season);
  const events: EpcisEvent[] = [
    ...season.gatherings.map((one) => gatheringEvent(names, one)),
    ...season.receipts.map((one) => receiptEvent(names, one)),
    ...season.boils.map((one) => boilEvent(names, one)),
    ...season.draws.map((one) => drawEvent(names, one)),
    ...season.lots.flatMap((lot) => [
      packEvent(names, lot, named.get(lot.lot) ?? []),
      ...supersededEvents(names, lot, named.get(lot.lot) ?? []),
      ...statusEvents(names, lot),
    ]),
    ...season.dispatches.filter((one) => !one.planned).map((one) => dispatchEvent(names, one)),
    ...season.counts.map((one) => countEvent(names, one)),
  ];
  events.sort((one, other) => Date.parse(one.eventTime) - Date.parse(other.eventTime));
  const document: EpcisDocument = {
    '@context': ['https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld', { boilbook: names.term('') }],
    type: 'EPCISDocument',
    schemaVersion: '2.0',
    creationDate: options.createdAt.toISOString(),
    epcisBody: { eventList: events },
  };
  const faults = epcisFaults(document);
  if (faults.length > 0) throw new Error(`The season’s events do not conform to EPCIS 2.0: ${faults.join('; ')}`);
  return document;
}

/** The jars of each pack that dispatches name, each once. */
function jarsNamed(season: Season): ReadonlyMap<string, readonly string[]> {
  const named = new Map<string, Set<string>>();
  for (const { lot, jarCodes, planned } of season.dispatches)
    for (const code of planned ? [] : jarCodes) named.set(lot, (named.get(lot) ?? new Set()).add(code));
  return new Map([...named].map(([lot, codes]) => [lot, [...codes]]));
}

/** The document as file text, with a final newline. */
export const seasonJsonLd = (season: Season, options: EpcisOptions): string =>
  JSON.stringify(seasonEpcis(season, options), null, 2) + '\n';
