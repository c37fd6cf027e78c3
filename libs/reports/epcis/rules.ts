/**
 * Two rules of EPCIS 2.0 that its published schema doesn't check: a transformation has outputs even where it has a
 * transformationID, and an aggregation that adds names what it adds to. Returns a sentence for each violation.
 */
export function epcisFaults(document: {
  readonly epcisBody: { readonly eventList: readonly object[] };
}): readonly string[] {
  return document.epcisBody.eventList.flatMap((event, index) => {
    const fields = event as Readonly<Record<string, unknown>>;
    const at = `event ${index + 1} (${text(fields['eventID']) || 'without an id'})`;
    if (fields['type'] === 'TransformationEvent') {
      const sides = [
        ['inputs', 'inputEPCList', 'inputQuantityList'],
        ['outputs', 'outputEPCList', 'outputQuantityList'],
      ] as const;
      return sides.flatMap(([name, ...lists]) =>
        lists.every((list) => isEmpty(fields[list])) ? [`${at}: a transformation without ${name}`] : [],
      );
    }
    if (fields['type'] === 'AggregationEvent' && fields['action'] === 'ADD' && text(fields['parentID']) === '')
      return [`${at}: an aggregation adds to nothing, parentID is missing`];
    return [];
  });
}

const isEmpty = (list: unknown): boolean => !Array.isArray(list) || list.length === 0;
const text = (value: unknown): string => (typeof value === 'string' ? value : '');
