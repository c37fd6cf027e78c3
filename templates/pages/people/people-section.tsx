import type { PageProps } from '../page-context.js';
import { PlainField } from '../parts/plain-field.js';
import { type PeopleFormProps, Roles, typedIn } from './people-form.js';

export interface PersonRow {
  readonly initials: string;
  readonly name: string;
  readonly role: string;
  readonly ended: string | undefined;
  readonly signsIn: boolean;
}

/** People of the house, each with a form to reset the password, and the form that adds one. */
export const PeopleSection = ({ people, ...form }: PeopleFormProps & { readonly people: readonly PersonRow[] }) => {
  const typed = typedIn('person', form);
  return (
    <>
      <h2>People</h2>
      <ol class="entry-list">
        {people.map((person) => (
          <li>
            <span class="when">
              <b>{person.initials}</b>
              {person.role}
            </span>
            <div class="what">
              <p>
                {person.name}
                <AccessStatus {...person} />
              </p>
              {!person.ended && <PasswordOrEnd initials={person.initials} page={form.page} />}
            </div>
          </li>
        ))}
      </ol>
      <form method="post" action="/people" id="new-person">
        <input type="hidden" name="_once" value={form.page.once} />
        <fieldset class="group">
          <legend>Add a person or change a role</legend>
          <PlainField
            id="person-initials"
            name="initials"
            label="Initials"
            hint="Shown next to their entries. For example, JP"
            value={typed.initials ?? ''}
          />
          <PlainField id="person-name" name="name" label="Name" value={typed.name ?? ''} />
          <Roles id="person-role" roles={form.roles} chosen={typed.role || 'maker'} />
          <PlainField
            id="person-password"
            name="password"
            label="A first password"
            hint="At least 8 characters. They can change it later. Leave blank to keep the present one."
            isSecret
            autocomplete="new-password"
          />
        </fieldset>
        <button class="main-action quiet">Add the person</button>
      </form>
    </>
  );
};

const AccessStatus = ({ ended, signsIn }: PersonRow) => {
  if (!ended && signsIn) return null;
  return (
    <>
      {' '}
      <span class="soft">{ended ? `ended ${ended}` : 'has no password yet'}</span>
    </>
  );
};

const PasswordOrEnd = ({ initials, page }: PageProps & { readonly initials: string }) => (
  <details class="more">
    <summary>
      Set a password, or end access<span class="unseen"> {initials}</span>
    </summary>
    <form method="post" action="/people/password">
      <input type="hidden" name="_once" value={page.once} />
      <input type="hidden" name="initials" value={initials} />
      <PlainField
        id={`p-${initials}`}
        name="password"
        label={`A new password for ${initials}`}
        isSecret
        autocomplete="new-password"
      />
      <button class="quiet">Set it</button>
    </form>
    <form method="post" action="/people/end">
      <input type="hidden" name="_once" value={page.once} />
      <input type="hidden" name="initials" value={initials} />
      <button class="quiet stopping">End {initials}’s access</button>
    </form>
  </details>
);
