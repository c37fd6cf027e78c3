/** A name of our own in EPCIS events, under `boilbook:`: the standard has no field for it. */
export interface EpcisTerm {
  readonly name: string;
  /** What the value says, with its unit. */
  readonly meaning: string;
  /** JSON type of the value. */
  readonly type: 'text' | 'number';
}

/** Every term of our own that events use; their addresses are `/terms/NAME` under the base address. */
export const epcisTerms: readonly EpcisTerm[] = [
  { name: 'brixAt20C', meaning: 'Density of the packed syrup in °Bx, percent sugar by mass, at 20 °C', type: 'number' },
  { name: 'by', meaning: 'Initials of the person who did or read it', type: 'text' },
  { name: 'container', meaning: 'The container: kind and volume as recorded, such as glass jar 8 fl oz', type: 'text' },
  { name: 'field', meaning: 'The field of the record that a correction changed', type: 'text' },
  { name: 'jars', meaning: 'Number of jars filled', type: 'number' },
  { name: 'litres', meaning: 'Volume of syrup packed, in litres', type: 'number' },
  { name: 'lot', meaning: 'Code of the lot to which the jars belong', type: 'text' },
  { name: 'now', meaning: 'Value of the corrected field after the correction', type: 'text' },
  { name: 'reading', meaning: 'What was measured, such as fill temperature or density', type: 'text' },
  { name: 'supplier', meaning: 'Supplier of the sap or syrup', type: 'text' },
  { name: 'theirLot', meaning: 'The supplier’s own lot code', type: 'text' },
  { name: 'to', meaning: 'Who received or returned the jars, as recorded', type: 'text' },
  { name: 'typed', meaning: 'A reading as typed, with its unit', type: 'text' },
  { name: 'was', meaning: 'Value of the corrected field before the correction', type: 'text' },
  { name: 'why', meaning: 'Reason for a correction, a hold, a release or a recall', type: 'text' },
];

/** The terms as a JSON-LD vocabulary; `base` is the address that all names begin with. */
export function termsVocabulary(base: string, terms: readonly EpcisTerm[] = epcisTerms): object {
  return {
    '@context': {
      rdfs: 'http://www.w3.org/2000/01/rdf-schema#',
      xsd: 'http://www.w3.org/2001/XMLSchema#',
      comment: 'rdfs:comment',
      label: 'rdfs:label',
      range: { '@id': 'rdfs:range', '@type': '@id' },
    },
    '@graph': terms.map(({ name, meaning, type }) => ({
      '@id': `${base}/terms/${name}`,
      '@type': 'http://www.w3.org/1999/02/22-rdf-syntax-ns#Property',
      label: name,
      comment: meaning,
      range: type === 'text' ? 'xsd:string' : 'xsd:decimal',
    })),
  };
}
