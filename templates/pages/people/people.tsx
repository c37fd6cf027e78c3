import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { AddressSymbol, type AddressSymbolProps } from '../parts/address-symbol.js';
import { KeysSection, type KeyRow } from './keys-section.js';
import { LinksSection, type LinkRow } from './links-section.js';
import type { PeopleForm, PeopleFormProps, RoleChoice } from './people-form.js';
import { PeopleSection, type PersonRow } from './people-section.js';
import { SessionsSection, type SessionRow } from './sessions-section.js';

/** A key or a link that was just made: shown only once, since only its hash is stored. */
export interface NewSecret {
  readonly of: 'key' | 'link';
  readonly name: string;
  readonly text: string;
  /** The QR code of a link's address, for the inspector's own device. */
  readonly symbol?: AddressSymbolProps['symbol'] | undefined;
}

export interface PeoplePageProps {
  readonly title: string;
  readonly here: string;
  readonly roles: readonly RoleChoice[];
  /** Which form was refused, why, and what was typed in it. */
  readonly of: PeopleForm | undefined;
  readonly sentences: readonly string[];
  readonly typed: PeopleFormProps['typed'];
  readonly secret: NewSecret | undefined;
  readonly people: readonly PersonRow[];
  readonly links: readonly LinkRow[];
  readonly keys: readonly KeyRow[];
  readonly sessions: readonly SessionRow[];
}

/** Accounts: people, guests by link, scripts by key, and the devices that are signed in. */
export const PeoplePage = ({ page, ...props }: PeoplePageProps & PageProps) => {
  const { title, here, roles, of, sentences, typed, secret } = props;
  const form = { of, typed, roles, page };
  return (
    <Layout page={page} title={title} here={here}>
      <h1>{title}</h1>
      {sentences.length > 0 && (
        <div class="summary" role="alert" tabindex={-1} id="summary">
          <h2>Not saved: check the fields below</h2>
          <ul>
            {sentences.map((sentence) => (
              <li>
                <a href={`#new-${of}`}>{sentence}</a>
              </li>
            ))}
          </ul>
        </div>
      )}
      {secret && <Secret {...secret} />}
      <form method="post" action="/people/links">
        <input type="hidden" name="_once" value={page.once} />
        <input type="hidden" name="name" value="Guest" />
        <input type="hidden" name="days" value="7" />
        <p class="soft">For an inspector or a buyer: read-only, on their own device.</p>
        <button class="main-action quick-link">Make a guest link for 7 days</button>
      </form>
      <PeopleSection {...form} people={props.people} />
      <LinksSection {...form} links={props.links} />
      <KeysSection {...form} keys={props.keys} />
      <SessionsSection page={page} sessions={props.sessions} />
    </Layout>
  );
};

const Secret = ({ of, name, text: label, symbol }: NewSecret) => (
  <div class="noted" role="status">
    {of === 'key' ? (
      <p>
        The key of <b>{name}</b>, shown this once: a script sends it as{' '}
        <span class="code">Authorization: Bearer KEY</span>.
      </p>
    ) : (
      <p>
        The link for <b>{name}</b>, shown this once. Send it, or let them scan it.
      </p>
    )}
    <p>
      <code class="code">{label}</code>
    </p>
    {of === 'link' && (
      <>
        <p>
          <button type="button" class="quiet" data-share={label} hidden>
            Share the link
          </button>
        </p>
        {symbol && <AddressSymbol symbol={symbol} />}
      </>
    )}
  </div>
);
