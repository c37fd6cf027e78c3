import { PlainField } from '../parts/plain-field.js';
import { EndButton, EntryList, type PeopleFormProps, Roles, typedIn } from './people-form.js';

export interface KeyRow {
  readonly name: string;
  readonly role: string;
  readonly made: string;
  readonly ended: string | undefined;
}

/** Keys for scripts, and the form for another. */
export const KeysSection = ({ keys, ...form }: PeopleFormProps & { readonly keys: readonly KeyRow[] }) => {
  const typed = typedIn('key', form);
  return (
    <>
      <h2>Keys for scripts</h2>
      <EntryList>
        {keys.map((key) => (
          <li>
            <span class="when">
              <b>{key.name}</b>
              {key.role}
            </span>
            <div class="what">
              <p>
                made {key.made}
                {key.ended && (
                  <>
                    , <span class="soft">ended {key.ended}</span>
                  </>
                )}
              </p>
              {!key.ended && (
                <EndButton
                  action="/people/keys/end"
                  field={['name', key.name]}
                  unseen={`: ${key.name}`}
                  page={form.page}
                />
              )}
            </div>
          </li>
        ))}
      </EntryList>
      <form method="post" action="/people/keys" id="new-key">
        <input type="hidden" name="_once" value={form.page.once} />
        <fieldset class="group">
          <legend>{keys.length > 0 ? 'Another key' : 'Make a key'}</legend>
          <PlainField
            id="key-name"
            name="name"
            label="What it is for"
            hint="For example, market-sheet"
            value={typed.name ?? ''}
          />
          <Roles id="key-role" roles={form.roles} chosen={typed.role || 'guest'} />
        </fieldset>
        <button class="main-action quiet">Make the key</button>
      </form>
    </>
  );
};
