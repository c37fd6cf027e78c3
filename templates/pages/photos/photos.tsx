import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { PhotoList, type PhotoRow } from './photo-list.js';

export interface PhotosProps {
  readonly noun: string;
  readonly id: string;
  readonly action: string;
  readonly back: string;
  readonly photos: readonly PhotoRow[];
  readonly mayAdd: boolean;
  readonly maxPhotos: number;
  readonly faults: readonly string[];
  readonly caption: string;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The photos of one record, and the form that adds one. */
export const PhotosPage = ({ page, ...view }: PhotosProps & PageProps) => (
  <Layout page={page} title={`Photos of ${view.noun} ${view.id}`.trimEnd()} here="find">
    <p class="crumb">
      <a href={view.back}>← {view.id || capital(view.noun)}</a>
    </p>
    {view.faults.length > 0 && (
      <div class="summary" role="alert" tabindex={-1} id="summary">
        <h2>Not saved</h2>
        <ul>
          {view.faults.map((fault) => (
            <li>
              <a href="#f-photo">{fault}</a>
            </li>
          ))}
        </ul>
      </div>
    )}
    <h1>
      Photos of {view.noun}
      {view.id && (
        <>
          {' '}
          <span class="code">{view.id}</span>
        </>
      )}
    </h1>
    {view.photos.length === 0 && <p class="now">No photo yet.</p>}
    <PhotoList photos={view.photos} />
    {view.mayAdd && (
      <form method="post" action={view.action} enctype="multipart/form-data" novalidate>
        <input type="hidden" name="_once" value={page.once} />
        <div class="field">
          <label for="f-photo">Take or choose a photo</label>
          <span class="hint" id="h-photo">
            JPEG, PNG or WebP, at most 20 MB. Location, time and camera are removed before it is saved.
          </span>
          <input
            id="f-photo"
            name="photo"
            type="file"
            accept="image/jpeg,image/png,image/webp"
            aria-describedby="h-photo"
          />
        </div>
        <div class="field">
          <label for="f-caption">What it shows</label>
          <span class="hint" id="h-caption">
            For example, the seal of jar 12. Optional
          </span>
          <input
            id="f-caption"
            name="caption"
            value={view.caption}
            maxlength={200}
            autocomplete="off"
            aria-describedby="h-caption"
          />
        </div>
        <button class="main-action">Save the photo</button>
      </form>
    )}
    <p class="soft small">
      A photo stays with the record, and its hash is in the log. A record holds {view.maxPhotos}. Don’t photograph
      faces.
    </p>
  </Layout>
);
