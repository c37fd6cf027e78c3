export interface PhotoProps {
  /** Name of the box that the code of the photographed label goes into. */
  readonly photo: string;
  /** Browsers open the camera only over TLS and on the machine itself. */
  readonly camera: boolean;
}

/**
 * Reads a label’s code with the camera or from a photo. Its space is reserved from the start; without script it is
 * hidden.
 */
export const Photo = ({ photo, camera }: PhotoProps) => (
  <>
    <div class="field photo" data-photo={photo}>
      {camera && (
        <>
          <button type="button" class="quiet" data-camera="">
            Scan with the camera
          </button>
          <video hidden muted playsinline aria-label="What the camera sees" />
        </>
      )}
      <label for="f-photo">Or a photo of the label</label>
      <span class="hint" id="f-photo-hint">
        The symbol fills a third of the picture or more; hold still
      </span>
      <input id="f-photo" type="file" accept="image/*" capture="environment" aria-describedby="f-photo-hint" />
      <p role="status" />
    </div>
    <script src="/assets/photo.js" defer />
  </>
);
