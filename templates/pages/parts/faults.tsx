/** A fault of a form, with the field it links to where there is one. */
export interface FaultLine {
  readonly sentence: string;
  readonly field?: string;
}

export interface FaultsProps {
  readonly faults: readonly FaultLine[];
  /** What did not happen, where nothing was to be saved. */
  readonly heading?: string;
}

/** The error summary of a form that isn't about a record: signing in, a password, setting up. */
export const Faults = ({ faults, heading = 'Not saved: check the fields below' }: FaultsProps) =>
  faults.length > 0 ? (
    <div class="summary" role="alert" tabindex={-1} id="summary">
      <h2>{heading}</h2>
      <ul>
        {faults.map(({ sentence, field }) => (
          <li>{field === undefined ? sentence : <a href={`#f-${field}`}>{sentence}</a>}</li>
        ))}
      </ul>
    </div>
  ) : null;
