import type { VNode } from 'preact';
import type { PageProps } from '../page-context.js';

export type PeopleForm = 'person' | 'key' | 'link';

export interface RoleChoice {
  readonly role: string;
  readonly text: string;
}

/** What every form of the page shares: its choices, and what was typed in the form that was refused. */
export interface PeopleFormProps extends PageProps {
  readonly of: PeopleForm | undefined;
  readonly typed: { readonly initials: string; readonly name: string; readonly role: string; readonly days: string };
  readonly roles: readonly RoleChoice[];
}

/** What was typed, if it was typed in this form. */
export const typedIn = (form: PeopleForm, { of, typed }: PeopleFormProps): Partial<PeopleFormProps['typed']> =>
  of === form ? typed : {};

/** The links or keys of a section, or that there are none. */
export const EntryList = ({ children }: { readonly children: readonly VNode[] }) =>
  children.length > 0 ? <ol class="entry-list">{children}</ol> : <p>None yet.</p>;

export interface EndButtonProps extends PageProps {
  readonly action: string;
  /** The form field that names the key or link to end, and its value. */
  readonly field: readonly [name: string, value: string];
  /** The rest of the button's name, for screen readers: they don't read the text beside it. */
  readonly unseen: string;
}

/** Ends a key or a link. */
export const EndButton = ({ action, field: [name, value], unseen, page }: EndButtonProps) => (
  <form method="post" action={action}>
    <input type="hidden" name="_once" value={page.once} />
    <input type="hidden" name={name} value={value} />
    <button class="quiet stopping">
      End it<span class="unseen">{unseen}</span>
    </button>
  </form>
);

export interface RolesProps {
  readonly id: string;
  readonly roles: readonly RoleChoice[];
  readonly chosen: string;
}

/** The roles to choose from, each with what it may do. */
export const Roles = ({ id, roles, chosen }: RolesProps) => (
  <fieldset id={id}>
    <legend class="label">What they may do</legend>
    <div class="choices">
      {roles.map(({ role }) => (
        <label class="choice">
          <input type="radio" name="role" value={role} checked={chosen === role} />
          <span>{role}</span>
        </label>
      ))}
    </div>
    <details class="more">
      <summary>What each role may do</summary>
      <dl class="facts">
        {roles.map(({ role, text }) => (
          <>
            <dt>{role}</dt>
            <dd>{text}</dd>
          </>
        ))}
      </dl>
    </details>
  </fieldset>
);
