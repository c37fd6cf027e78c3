import type { ComponentChildren } from 'preact';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

export interface OwnPictureProps {
  readonly title: string;
  readonly faults: readonly string[];
  /** The page's own address: a file is posted to it, and to `/remove` below it. */
  readonly address: string;
  readonly isStored: boolean;
  readonly file: { readonly label: string; readonly hint: string; readonly accept: string };
  readonly submitLabel: string;
  /** The stored picture. */
  readonly shown: ComponentChildren;
  /** Further fields of the form. */
  readonly extraFields?: ComponentChildren;
}

/** A picture of the maker's own, with forms to replace and remove it. */
export const OwnPicturePage = (props: OwnPictureProps & PageProps) => {
  const { page, title, faults, address, isStored, file, submitLabel, shown, extraFields } = props;
  return (
    <Layout page={page} title={title} here="">
      <p class="crumb">
        <a href="/house">← The sugarhouse</a>
      </p>
      <h1>{title}</h1>
      {faults.length > 0 && (
        <div class="summary" role="alert" tabIndex={-1} id="summary">
          <h2>Not saved</h2>
          <ul>
            {faults.map((fault) => (
              <li key={fault}>{fault}</li>
            ))}
          </ul>
        </div>
      )}
      {shown}
      {page.may('owner') && (
        <>
          <form method="post" action={address} encType="multipart/form-data" noValidate>
            <div class="field">
              <label for="f-file">{file.label}</label>
              <span class="hint" id="h-file">
                {file.hint}
              </span>
              <input id="f-file" name="file" type="file" accept={file.accept} aria-describedby="h-file" />
            </div>
            {extraFields}
            <button class="main-action">{submitLabel}</button>
          </form>
          {isStored && (
            <form method="post" action={`${address}/remove`}>
              <input type="hidden" name="_once" value={page.once} />
              <button class="quiet">Remove it</button>
            </form>
          )}
        </>
      )}
    </Layout>
  );
};
