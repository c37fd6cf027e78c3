/** A sample in the cup: the hydrometer's reading, large, and the verdict by the place's chart. */
export interface HotCupView {
  readonly reading: string;
  readonly kind: 'passes' | 'stops' | 'advice';
  readonly text: string;
  readonly beside: string;
  /** What to do at the pan now. */
  readonly advice: string;
  /** What was found about the limit; undefined where it passes with room to spare. */
  readonly found: string | undefined;
}

export interface HotCupProps {
  readonly code: string;
  readonly cup: HotCupView;
  readonly writes: boolean;
}

/** The hot cup reading of a boil, and whether the syrup may be drawn off. */
export const HotCup = ({ code, cup, writes }: HotCupProps) => (
  <section id="cup" aria-label="Hot cup" class="cup">
    <p class={`judged ${cup.kind}`}>
      <span class="reading thumb">{cup.reading}</span> <span class={`verdict ${cup.kind}`}>{cup.text}</span>
      <span class="limit">{cup.beside}</span>
    </p>
    <p>
      <b>{cup.advice}</b> {writes && <a href={`/boils/${code}/log/cup`}>Measure again</a>}
    </p>
    {cup.found && (
      <details class="more">
        <summary>How that is judged</summary>
        <p class="small soft">{cup.found}</p>
      </details>
    )}
  </section>
);
