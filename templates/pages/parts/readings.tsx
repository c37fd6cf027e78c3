export interface ReadingView {
  readonly reading: string;
  readonly limit: string;
  /** The reading is text, not a number. */
  readonly word?: boolean;
}

export interface ReadingsProps {
  readonly readings: readonly ReadingView[];
}

/** Readings in large type, each above its limit. */
export const Readings = ({ readings }: ReadingsProps) =>
  readings.length > 0 && (
    <ul class="readings">
      {readings.map((reading) => (
        <li>
          <span class={`reading${reading.word ? ' word' : ''}`}>{reading.reading}</span>
          <span class="limit">{reading.limit}</span>
        </li>
      ))}
    </ul>
  );
