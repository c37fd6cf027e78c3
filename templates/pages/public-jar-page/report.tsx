import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { PhoneLink } from './phone-link.js';

export interface ReportPageProps {
  readonly title: string;
  readonly code: string;
  readonly fault?: 'reach' | 'said' | 'again' | 'full' | undefined;
  readonly said: string;
  readonly reach: string;
  readonly phone: string;
}

/** The form by which a customer reports a bad jar. */
export const ReportPage = ({ title, code, fault, said, reach, phone, page }: ReportPageProps & PageProps) => (
  <Layout page={page} title={title}>
    <p class="crumb">
      <a href={`/j/${code}`}>← This jar</a>
    </p>
    <h1>Something is wrong with this jar</h1>
    <p class="now">
      Don’t eat from it. Keep it closed and cold until the makers answer. If you feel ill, call a doctor now.
    </p>
    {fault && (
      <div class="summary" role="alert" tabindex={-1} id="summary">
        <h2>Not sent yet</h2>
        <ul>
          <li>
            {fault === 'said' ? (
              <a href="#f-said">Describe what is wrong, in at most 1,000 letters</a>
            ) : fault === 'reach' ? (
              <a href="#f-reach">How to reach you: enter at most 200 letters</a>
            ) : fault === 'full' ? (
              'Too many reports came from here today: call the makers'
            ) : (
              'It could not be sent. Send it again'
            )}
          </li>
        </ul>
      </div>
    )}
    <form method="post" action={`/j/${code}/report`} novalidate>
      <input type="hidden" name="_once" value={page.once} />
      <div class={`field${fault === 'said' ? ' wrong' : ''}`}>
        <label for="f-said">
          What is wrong <span class="asked">(needed)</span>
        </label>
        <span class="hint" id="f-said-hint">
          For example, the lid, mould, smell, taste or glass
        </span>
        <textarea id="f-said" name="said" rows={4} maxlength={1000} aria-describedby="f-said-hint">
          {said}
        </textarea>
      </div>
      <div class={`field${fault === 'reach' ? ' wrong' : ''}`}>
        <label for="f-reach">How to reach you</label>
        <span class="hint" id="f-reach-hint">
          Only if you want an answer. The makers may keep it in their permanent record
        </span>
        <input
          id="f-reach"
          name="reach"
          value={reach}
          maxlength={200}
          autocomplete="off"
          aria-describedby="f-reach-hint"
        />
      </div>
      <button class="main-action">Send it to the makers</button>
    </form>
    {phone && (
      <p>
        Or call <PhoneLink phone={phone} /> and say the lot on the label.
      </p>
    )}
  </Layout>
);
