/** What was recorded of a jar's syrup before it was packed; times are ISO with the offset they were recorded in. */
export interface JarStory {
  readonly slopes: readonly string[];
  readonly gathered: Span | undefined;
  readonly boiled: Span | undefined;
  readonly sap: { readonly amount: number; readonly unit: 'gal' | 'L' } | undefined;
  /** Whether some of its sap or syrup came from another sugarhouse. */
  readonly isBought: boolean;
  /** Only on the public page, where the maker has added one. */
  readonly photo?: StoryPhoto | undefined;
}

/** The photo on a jar's public page. */
export interface StoryPhoto {
  readonly sha256: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Its description, for people who can't see it. */
  readonly shows: string;
}

interface Span {
  readonly from: string;
  readonly until: string;
}

/** One sentence for each recorded fact. */
export function storySentences({ slopes, gathered, boiled, sap, isBought }: JarStory): string[] {
  const on = gathered && daysIn(gathered, english);
  const from = slopes.length > 0 ? `Its sap came from ${list(slopes, 'and')}` : '';
  return [
    from && (on ? `${from}, gathered ${on}.` : `${from}.`),
    !from && on ? `Its sap was gathered ${on}.` : '',
    boiled ? `It was boiled ${nightIn(boiled, english)}.` : '',
    sap
      ? `${sap.amount} ${sap.unit === 'gal' ? (sap.amount === 1 ? 'gallon' : 'gallons') : 'litres'} of sap went into the pans.`
      : '',
    isBought ? 'Some of it came from another sugarhouse.' : '',
  ].filter(Boolean);
}

/** A jar's story in French, for labels of places where French is required. */
export function storySentencesFr({ slopes, gathered, boiled, sap, isBought }: JarStory): string[] {
  const on = gathered && daysIn(gathered, french);
  const from = slopes.length > 0 ? `Son eau d’érable vient de ${list(slopes, 'et')}` : '';
  return [
    from && (on ? `${from}, récoltée ${on}.` : `${from}.`),
    !from && on ? `Son eau d’érable a été récoltée ${on}.` : '',
    boiled ? `Il a été bouilli ${nightIn(boiled, french)}.` : '',
    sap ? `${sap.amount} ${sap.unit === 'gal' ? 'gallons' : 'litres'} d’eau d’érable dans les bassins.` : '',
    isBought ? 'Une partie vient d’une autre érablière.' : '',
  ].filter(Boolean);
}

interface Language {
  readonly months: readonly string[];
  readonly day: (day: number, month: string) => string;
  readonly on: (day: string) => string;
  readonly between: (from: string, until: string) => string;
  readonly night: (from: string, until: string | undefined) => string;
}

const english: Language = {
  months: 'January February March April May June July August September October November December'.split(' '),
  day: (day, month) => `${day} ${month}`,
  on: (day) => `on ${day}`,
  between: (from, until) => `from ${from} to ${until}`,
  night: (from, until) => (until ? `in the night of ${from} to ${until}` : `in the night of ${from}`),
};

const french: Language = {
  months: 'janvier février mars avril mai juin juillet août septembre octobre novembre décembre'.split(' '),
  day: (day, month) => `${day === 1 ? '1er' : day} ${month}`,
  on: (day) => `le ${day}`,
  between: (from, until) => `du ${from} au ${until}`,
  night: (from, until) => (until ? `dans la nuit du ${from} au ${until}` : `dans la nuit du ${from}`),
};

function daysIn({ from, until }: Span, language: Language): string {
  const [first, last] = [dayText(from, language), dayText(until, language)];
  const year = until.slice(0, 4);
  return first === last ? language.on(`${last} ${year}`) : language.between(first, `${last} ${year}`);
}

/** “One night” begins in the evening, or ends on the next day. */
function nightIn(span: Span, language: Language): string {
  const [from, until] = [span.from.slice(0, 10), span.until.slice(0, 10)];
  const year = span.until.slice(0, 4);
  const isNext = Date.parse(until) - Date.parse(from) === 86_400_000;
  if (isNext) return language.night(dayText(from, language), `${dayText(until, language)} ${year}`);
  return from === until && Number(span.from.slice(11, 13)) >= 18
    ? language.night(`${dayText(from, language)} ${year}`, undefined)
    : daysIn(span, language);
}

const dayText = (iso: string, { months, day }: Language): string =>
  day(Number(iso.slice(8, 10)), months[Number(iso.slice(5, 7)) - 1] ?? '');

const list = (names: readonly string[], and: string): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} ${and} ${names.slice(-1).join('')}`;
