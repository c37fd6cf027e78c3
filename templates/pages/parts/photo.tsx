export interface PhotoProps {
  /** Name of the box that the code of the photographed label goes into. */
  readonly photo: string;
}

/** Takes a label’s code from a photo; in sight only where the page’s script can read one. */
export const Photo = ({ photo }: PhotoProps) => (
  <>
    <div class="field photo" data-photo={photo} hidden>
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
