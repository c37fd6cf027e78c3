import type { PageProps } from '../page-context.js';
import { OwnPicturePage } from './own-picture.js';

export interface StoryPhotoPageProps {
  readonly stored:
    { readonly widthPx: number; readonly heightPx: number; readonly shows: string; readonly by: string } | undefined;
  /** Whether jars' public pages show a story at all. */
  readonly isShown: boolean;
  /** What was typed and not accepted. */
  readonly shows: string;
  readonly faults: readonly string[];
}

/** The one photo shown with the story on jars' public pages. */
export const StoryPhotoPage = ({ page, stored, isShown, shows, faults }: StoryPhotoPageProps & PageProps) => (
  <OwnPicturePage
    page={page}
    title="Photo for the jar’s story"
    faults={faults}
    address="/house/story-photo"
    isStored={stored !== undefined}
    file={{
      label: stored ? 'Another photo' : 'The photo',
      hint: 'JPEG, PNG or WebP, at most 20 MB. Location, time and camera are removed before it is saved. Anybody with a jar can see it: ask the people in it first.',
      accept: 'image/jpeg,image/png,image/webp',
    }}
    submitLabel="Show it with the story"
    shown={
      <>
        {!isShown && (
          <p class="now">
            The public page shows no story yet: answer yes to “The jar’s public page shows …” under{' '}
            <a href="/house?box=jarStory#f-jarStory">The sugarhouse</a>.
          </p>
        )}
        {stored ? (
          <figure class="label-shown">
            <img src="/house/story-photo.jpg" alt={stored.shows} width={stored.widthPx} height={stored.heightPx} />
            <figcaption class="soft small">
              {stored.shows} ({stored.by})
            </figcaption>
          </figure>
        ) : (
          <p class="soft">None yet: the jar’s story is text only.</p>
        )}
      </>
    }
    extraFields={
      <div class="field">
        <label for="f-shows">What it shows</label>
        <span class="hint" id="h-shows">
          A description for people who can’t see it. For example, steam over the long pan, March 2026
        </span>
        <input id="f-shows" name="shows" value={shows} maxLength={200} autocomplete="off" aria-describedby="h-shows" />
      </div>
    }
  />
);
