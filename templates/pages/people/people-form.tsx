import type { PageProps } from '../page-context.js';

export type PeopleForm = 'person' | 'key' | 'link';

export interface RoleChoice {
  readonly role: string;
  readonly text: string;
}

/** What every form of the page shares: what may be chosen, and what was typed in the one that was refused. */
export interface PeopleFormProps extends PageProps {
  readonly of: PeopleForm | undefined;
  readonly typed: { readonly initials: string; readonly name: string; readonly role: string; readonly days: string };
  readonly roles: readonly RoleChoice[];
}

/** What was typed, in the form that it was typed in. */
export const typedIn = (form: PeopleForm, { of, typed }: PeopleFormProps): Partial<PeopleFormProps['typed']> =>
  of === form ? typed : {};

export interface RolesProps {
  readonly id: string;
  readonly roles: readonly RoleChoice[];
  readonly chosen: string;
}

export const Roles = ({ id, roles, chosen }: RolesProps) => (
  <fieldset id={id}>
    <legend class="label">What they may do</legend>
    <div class="choices">
      {roles.map(({ role, text: words }) => (
        <label class="choice">
          <input type="radio" name="role" value={role} checked={chosen === role} />
          <span>
            {role}: {words}
          </span>
        </label>
      ))}
    </div>
  </fieldset>
);
