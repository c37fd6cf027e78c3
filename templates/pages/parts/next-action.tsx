import type { PageProps } from '../page-context.js';

/** The main button of a lot's page, or who may do the next step if this person may not. */
export interface NextAction {
  readonly href?: string;
  /** Posted to the address at once, with these fields: one tap. */
  readonly post?: Readonly<Record<string, string>>;
  readonly text: string;
}

export interface NextActionButtonProps extends PageProps {
  readonly next: NextAction | undefined;
}

/** The next step for a lot. */
export const NextActionButton = ({ next, page }: NextActionButtonProps) => {
  if (!next) return null;
  if (!next.href)
    return (
      <p class="next-action">
        <b>{next.text}</b>
      </p>
    );
  if (!next.post)
    return (
      <a class="main-action next-action" href={next.href}>
        {next.text}
      </a>
    );
  return (
    <form method="post" action={next.href}>
      <input type="hidden" name="_once" value={`${page.once}-next`} />
      {Object.entries(next.post).map(([name, value]) => (
        <input type="hidden" name={name} value={value} />
      ))}
      <button class="main-action next-action">{next.text}</button>
    </form>
  );
};
