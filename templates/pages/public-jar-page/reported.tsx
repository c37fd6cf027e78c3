import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { PhoneLink } from './phone-link.js';

export interface ReportedPageProps {
  readonly title: string;
  readonly code: string;
  readonly phone: string;
}

/** Shown once a customer's report is stored. */
export const ReportedPage = ({ title, code, phone, page }: ReportedPageProps & PageProps) => (
  <Layout page={page} title={title}>
    <p class="crumb">
      <a href={`/j/${code}`}>← This jar</a>
    </p>
    <h1>Your report was sent to the makers</h1>
    <p class="now">
      Thank you. Don’t eat from the jar. Keep it closed and cold, with its label on, so that it can be inspected. If you
      feel ill, call a doctor now.
    </p>
    {phone && (
      <p>
        If you hear nothing, call <PhoneLink phone={phone} />.
      </p>
    )}
  </Layout>
);
