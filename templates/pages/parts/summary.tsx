export interface ProblemView {
  readonly title: string;
  /** The clock may be wrong: a second button confirms that somebody has checked it. */
  readonly clock?: boolean;
  readonly lines: readonly { readonly text: string; readonly field?: string }[];
}

export interface SummaryProps {
  readonly problem: ProblemView | undefined;
}

/** The error summary of a form, each line with a link to its field. */
export const Summary = ({ problem }: SummaryProps) =>
  problem ? (
    <div class="summary" role="alert" tabindex={-1} id="summary">
      <h2>{problem.title}</h2>
      <ul>
        {problem.lines.map((each) => (
          <li>{each.field ? <a href={`#f-${each.field}`}>{each.text}</a> : each.text}</li>
        ))}
      </ul>
    </div>
  ) : null;
