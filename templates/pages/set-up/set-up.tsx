import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { NoTlsWarning } from '../parts/no-tls-warning.js';
import { type FaultLine, Faults } from '../parts/faults.js';
import { Phones, type PhonesProps } from '../parts/phones.js';
import { PlainField } from '../parts/plain-field.js';
import { SugarhouseFields, type SugarhouseFieldsProps } from './sugarhouse-fields.js';

export interface SetUpPageProps {
  /** The boxes of the sugarhouse; undefined where the command line has set it up already. */
  readonly fields: SugarhouseFieldsProps['fields'] | undefined;
  readonly step: 'sugarhouse' | 'owner';
  readonly faults: readonly FaultLine[];
  readonly phones: PhonesProps['phones'];
  readonly typed: Readonly<Record<string, string>>;
  readonly places: SugarhouseFieldsProps['places'];
  readonly zone: string;
  readonly zones: SugarhouseFieldsProps['zones'];
}

/** The first visit, in two steps: the sugarhouse, and the owner of its book. */
export const SetUpPage = ({ page, ...props }: SetUpPageProps & PageProps) => {
  const { fields, step, faults, phones, typed } = props;
  const isOwner = step === 'owner' || !fields;
  const text = (name: string) => ({
    name,
    value: typed[name] ?? '',
    fault: faults.find(({ field }) => field === name)?.sentence,
  });
  return (
    <Layout page={page} title="Set up your record book">
      <h1>Set up your record book</h1>
      <Faults faults={faults} />
      <p class="now">
        {!fields
          ? 'Who owns this book?'
          : isOwner
            ? 'Step 2 of 2: you.'
            : 'Step 1 of 2: the sugarhouse. All of it can be changed later.'}
      </p>
      {(!isOwner || !fields) && (
        <p>
          <a href="#practice">Or look around first, in a practice book</a>
        </p>
      )}
      <Phones phones={phones} />
      <NoTlsWarning page={page} />
      <form method="post" action={isOwner ? '/set-up' : '/set-up/sugarhouse'}>
        {fields && isOwner ? (
          <Hidden names={['word', ...Object.keys(fields)]} typed={typed} />
        ) : (
          <PlainField
            {...text('word')}
            label="Setup code"
            hint="It is in the last lines that npm start printed. It keeps others on the network from claiming the book first."
          />
        )}
        {fields && !isOwner ? (
          <>
            <Hidden names={['initials', 'person']} typed={typed} />
            <SugarhouseFields {...props} fields={fields} />
            <button class="main-action">Next</button>
          </>
        ) : (
          <>
            <PlainField
              {...text('initials')}
              label="Your initials"
              hint="Shown next to your entries. For example, WE"
              autocomplete="username"
            />
            <PlainField
              {...text('person')}
              label="Your name"
              hint="Printed in the key to initials. For example, Wren Ellery; can wait"
              autocomplete="name"
            />
            <PlainField
              {...text('password')}
              label="Password"
              hint="At least 8 characters; 15 or more are better. You can reset it, but nobody can view it."
              isSecret
              autocomplete="new-password"
            />
            <button class="main-action">Create the book</button>
          </>
        )}
      </form>
      <form method="post" action="/practice" id="practice">
        <p>Or look around first, in a book with an invented season:</p>
        <button class="main-action quiet">Open the practice book</button>
      </form>
    </Layout>
  );
};

/** What was typed in the other step, as hidden fields. */
const Hidden = ({
  names,
  typed,
}: {
  readonly names: readonly string[];
  readonly typed: Readonly<Record<string, string>>;
}) => (
  <>
    {names
      .filter((name) => typed[name])
      .map((name) => (
        <input type="hidden" name={name} value={typed[name]} />
      ))}
  </>
);
