/** The main button of a lot's page, or who may do the next thing where this person may not. */
export interface NextAction {
  readonly href?: string;
  readonly text: string;
}

export interface NextActionButtonProps {
  readonly next: NextAction | undefined;
}

/** What comes next for a lot. */
export const NextActionButton = ({ next }: NextActionButtonProps) =>
  next ? (
    next.href ? (
      <a class="main-action next-action" href={next.href}>
        {next.text}
      </a>
    ) : (
      <p class="next-action">
        <b>{next.text}</b>
      </p>
    )
  ) : null;
