import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { NoTlsWarning } from '../parts/no-tls-warning.js';
import { type FaultLine, Faults } from '../parts/faults.js';
import { PlainField } from '../parts/plain-field.js';

export interface PasswordPageProps {
  readonly faults: readonly FaultLine[];
}

/** The page on which a person changes their own password. */
export const PasswordPage = ({ faults, page }: PasswordPageProps & PageProps) => (
  <Layout page={page} title="Your password" here="">
    <p class="crumb">
      <a href="/account">← You</a>
    </p>
    <h1>Your password</h1>
    <Faults faults={faults} />
    <NoTlsWarning page={page} />
    <form method="post" action="/account/password">
      <PlainField name="old" label="Current password" isSecret autocomplete="current-password" />
      <PlainField
        name="password"
        label="New password"
        hint="At least 8 characters; 15 or more are better."
        isSecret
        autocomplete="new-password"
      />
      <button class="main-action">Change password</button>
    </form>
  </Layout>
);
