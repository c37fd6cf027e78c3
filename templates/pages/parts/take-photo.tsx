import type { ProblemView } from './summary.js';

interface TakePhotoProps {
  readonly problem: ProblemView | undefined;
}

/** A photo taken on the form itself: of a gauge, a label, a seal. It is saved with the record, or not at all. */
export const TakePhoto = ({ problem }: TakePhotoProps) => (
  <details class="more" open={problem !== undefined}>
    <summary>Take a photo</summary>
    <PhotoFields problem={problem} />
  </details>
);

/** Its boxes without the heading, for a form that folds them away with others. */
export const PhotoFields = ({ problem }: TakePhotoProps) => (
  <>
    <div class="field">
      <label for="f-photo-taken">Photo of what is recorded</label>
      <span class="hint" id="f-photo-taken-hint">
        JPEG, PNG or WebP, at most 20 MB. Location, time and camera are removed before it is saved. No faces.
        {problem && ' Not saved yet: if you had chosen a photo, choose it again.'}
      </span>
      <input
        id="f-photo-taken"
        name="photo"
        type="file"
        accept="image/jpeg,image/png,image/webp"
        aria-describedby="f-photo-taken-hint"
      />
    </div>
    <div class="field">
      <label for="f-photo-caption">What it shows</label>
      <input id="f-photo-caption" name="photo~caption" maxlength={200} autocomplete="off" />
    </div>
  </>
);
