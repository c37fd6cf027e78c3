export interface RecallAuthority {
  readonly name: string;
  readonly asksAbout: string;
  /** Its telephone; null where nobody recorded one. */
  readonly contact: string | null;
}

/** The authorities to inform about a recall, each with its telephone and what it answers for. */
export const Authorities = ({ authorities }: { readonly authorities: readonly RecallAuthority[] }) => (
  <dl class="facts">
    {authorities.map(({ name, asksAbout, contact }) => (
      <>
        <dt>{name}</dt>
        <dd>
          {contact === null ? (
            'Telephone not recorded.'
          ) : (
            <>
              Telephone <b>{contact}</b>.
            </>
          )}{' '}
          {asksAbout !== '' && <span class="soft">Ask about: {asksAbout}</span>}
        </dd>
      </>
    ))}
  </dl>
);
