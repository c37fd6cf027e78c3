import type { PageProps } from '../page-context.js';
import { OwnPicturePage } from './own-picture.js';

export interface LogoPageProps {
  readonly stored:
    { readonly kind: string; readonly widthPx: number; readonly heightPx: number; readonly by: string } | undefined;
  readonly faults: readonly string[];
}

/** The maker's own drawing for the labels, and how it prints in black and in colour. */
export const LogoPage = ({ page, stored, faults }: LogoPageProps & PageProps) => (
  <OwnPicturePage
    page={page}
    title="Your drawing on labels"
    faults={faults}
    address="/house/logo"
    isStored={stored !== undefined}
    file={{
      label: stored ? 'Another drawing' : 'The drawing',
      hint: 'SVG of plain shapes, or PNG from 120 pixels; 512 KiB at most. Dark ink on white; letters in an SVG turned into outlines.',
      accept: '.svg,.png,image/svg+xml,image/png',
    }}
    submitLabel="Put it on labels"
    shown={
      stored ? (
        <>
          <figure class="label-shown">
            <img src="/house/logo.png" alt="Your drawing in its own colours" />
            <figcaption class="soft small">
              On a colour printer ({stored.widthPx} × {stored.heightPx} pixels, from {stored.kind.toUpperCase()},{' '}
              {stored.by})
            </figcaption>
          </figure>
          <figure class="label-shown">
            <img src="/house/logo.png?ink=yes" alt="Your drawing in black only" />
            <figcaption class="soft small">In black only, as on a thermal printer</figcaption>
          </figure>
        </>
      ) : (
        <p class="now">None yet: labels carry text only.</p>
      )
    }
  />
);
