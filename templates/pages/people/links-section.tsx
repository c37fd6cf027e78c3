import { PlainField } from '../parts/plain-field.js';
import { EndButton, EntryList, type PeopleFormProps, typedIn } from './people-form.js';

export interface LinkRow {
  readonly link: string;
  readonly name: string;
  readonly madeBy: string;
  readonly used: number;
  readonly until: string;
  /** `ended` or `run out`; blank while the link is valid. */
  readonly endedText: string;
}

/** Links for guests, and the form for another. */
export const LinksSection = ({ links, ...form }: PeopleFormProps & { readonly links: readonly LinkRow[] }) => {
  const typed = typedIn('link', form);
  return (
    <>
      <h2>Links for guests</h2>
      <p class="soft">The link works once on each device.</p>
      <EntryList>
        {links.map((link) => (
          <li>
            <span class="when">
              <b>{link.name}</b>by {link.madeBy}
            </span>
            <div class="what">
              <p>
                {link.endedText ? <span class="soft">{link.endedText}</span> : <>until {link.until}</>}, opened on{' '}
                {link.used} {link.used === 1 ? 'device' : 'devices'}
              </p>
              {!link.endedText && (
                <EndButton
                  action="/people/links/end"
                  field={['link', link.link]}
                  unseen={` for ${link.name}`}
                  page={form.page}
                />
              )}
            </div>
          </li>
        ))}
      </EntryList>
      <form method="post" action="/people/links" id="new-link">
        <input type="hidden" name="_once" value={form.page.once} />
        <fieldset class="group">
          <legend>{links.length > 0 ? 'Another link' : 'Make a link'}</legend>
          <PlainField
            id="link-name"
            name="name"
            label="For whom"
            hint="For example, Inspector"
            value={typed.name ?? ''}
          />
          <PlainField
            id="link-days"
            name="days"
            label="How many days it lasts"
            hint="For example, 7"
            value={typed.days ?? ''}
            inputmode="numeric"
            class="brief"
          />
        </fieldset>
        <button class="main-action quiet">Make the link</button>
      </form>
    </>
  );
};
