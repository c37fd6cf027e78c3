export interface Consequence {
  readonly asks: 'destroy' | 'hold' | 'nothing';
  readonly found: string;
  readonly text: string;
  readonly source: string;
}

export interface ConsequencesProps {
  readonly consequences: readonly Consequence[];
}

const verdicts = { destroy: 'DESTROY', hold: 'HOLD IT', nothing: 'advisory' } as const;

/** The verdict on the readings of a returned jar. */
export const Consequences = ({ consequences }: ConsequencesProps) => (
  <ul class="findings">
    {consequences.map((consequence) => (
      <li class={consequence.asks === 'nothing' ? 'advice' : 'stop'}>
        <h3>
          <span class={`verdict ${consequence.asks === 'nothing' ? 'advice' : 'stops'}`}>
            {verdicts[consequence.asks]}
          </span>{' '}
          {consequence.found}
        </h3>
        <p>
          {consequence.text} <span class="source">{consequence.source}</span>
        </p>
      </li>
    ))}
  </ul>
);
