import { createRequire } from 'node:module';

// epcis2.js, a general EPCIS library, is CommonJS without types.
interface Validation {
  readonly success: boolean;
  readonly errors: readonly string[];
}
interface WalkedEvent {
  getBizStep(): string;
  getErrorDeclaration?(): unknown;
  getEPCList?(): string[] | undefined;
  getQuantityList?(): Quantity[] | undefined;
  getInputQuantityList?(): Quantity[] | undefined;
  getOutputQuantityList?(): Quantity[] | undefined;
  getOutputEPCList?(): string[] | undefined;
}
interface Quantity {
  getEpcClass(): string;
}
const library = createRequire(import.meta.url)('epcis2.js') as {
  validateEpcisDocument: (document: unknown, throwError: boolean) => Validation;
  setup: (settings: object) => void;
  EPCISDocument: new (document: unknown) => { getEPCISBody?(): unknown; getEventList(): WalkedEvent[] };
};

/** Whether a document is valid by the library's schema, with its extensions declared; and what is wrong with it. */
export function validated(document: unknown): Validation {
  library.setup({ checkExtensions: true });
  return library.validateEpcisDocument(document, false);
}

/** The events of a document, without those declared in error. */
export const walkable = (document: unknown): WalkedEvent[] =>
  new library.EPCISDocument(document).getEventList().filter((event) => !event.getErrorDeclaration?.());

const classesOf = (list: Quantity[] | undefined): string[] => (list ?? []).map((each) => each.getEpcClass());

/** The jars and lots that an event is about. */
export const namesIn = (event: WalkedEvent): string[] => [
  ...(event.getEPCList?.() ?? []),
  ...classesOf(event.getQuantityList?.()),
];

/** Everything that went into things of these names, by the transformations that produced them. */
export function upstreamOf(events: readonly WalkedEvent[], from: readonly string[]): string[] {
  const found = new Set<string>();
  const waiting = [...from];
  while (waiting.length > 0) {
    const name = waiting.shift() ?? '';
    for (const event of events)
      if ([...(event.getOutputEPCList?.() ?? []), ...classesOf(event.getOutputQuantityList?.())].includes(name))
        for (const input of classesOf(event.getInputQuantityList?.()))
          if (!found.has(input)) {
            found.add(input);
            waiting.push(input);
          }
  }
  return [...found];
}
