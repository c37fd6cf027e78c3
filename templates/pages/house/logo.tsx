import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

export interface LogoPageProps {
  readonly kept:
    { readonly kind: string; readonly widthPx: number; readonly heightPx: number; readonly by: string } | undefined;
  readonly faults: readonly string[];
}

/** The maker's own drawing for the labels: how it prints in black and in colour, another in its place, none at all. */
export const LogoPage = ({ page, kept, faults }: LogoPageProps & PageProps) => (
  <Layout page={page} title="Your drawing on labels" here="">
    <p class="crumb">
      <a href="/house">← The sugarhouse</a>
    </p>
    <h1>Your drawing on labels</h1>
    {faults.length > 0 && (
      <div class="summary" role="alert" tabIndex={-1} id="summary">
        <h2>Not taken</h2>
        <ul>
          {faults.map((fault) => (
            <li key={fault}>{fault}</li>
          ))}
        </ul>
      </div>
    )}
    {kept ? (
      <>
        <figure class="label-shown">
          <img src="/house/logo.png" alt="Your drawing in its own colours" />
          <figcaption class="soft small">
            On a colour printer ({kept.widthPx} × {kept.heightPx} pixels, from {kept.kind.toUpperCase()}, {kept.by})
          </figcaption>
        </figure>
        <figure class="label-shown">
          <img src="/house/logo.png?ink=yes" alt="Your drawing in black alone" />
          <figcaption class="soft small">In black alone, as a thermal printer has it</figcaption>
        </figure>
      </>
    ) : (
      <p class="now">None yet: labels carry words alone.</p>
    )}
    {page.may('owner') && (
      <>
        <form method="post" action="/house/logo" encType="multipart/form-data" noValidate>
          <div class="field">
            <label for="f-file">{kept ? 'Another drawing' : 'The drawing'}</label>
            <span class="hint" id="h-file">
              SVG of plain shapes, or PNG from 120 pixels; 512 KiB at most. Dark ink on white; letters in an SVG turned
              into outlines.
            </span>
            <input
              id="f-file"
              name="file"
              type="file"
              accept=".svg,.png,image/svg+xml,image/png"
              aria-describedby="h-file"
            />
          </div>
          <button class="deed">Put it on labels</button>
        </form>
        {kept && (
          <form method="post" action="/house/logo/remove">
            <input type="hidden" name="_once" value={page.once} />
            <button class="quiet">Remove it</button>
          </form>
        )}
      </>
    )}
  </Layout>
);
