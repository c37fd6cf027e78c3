export interface PhotoRow {
  readonly entry: number;
  readonly href: string;
  readonly small: string;
  readonly caption: string;
  /** Who took it and when. */
  readonly beside: string;
  readonly width: number;
  readonly height: number;
}

/** Photos of a record or a lot, each a link to its full size. */
export const PhotoList = ({ photos }: { readonly photos: readonly PhotoRow[] }) => (
  <ul class="photos">
    {photos.map(({ entry, href, small, caption, beside, width, height }) => (
      <li>
        <a href={href}>
          <img
            src={small}
            width={width}
            height={height}
            loading="lazy"
            alt={caption || `Photo without a caption, entry ${entry}`}
          />
        </a>
        {caption !== '' && <p>{caption}</p>}
        <p class="small soft">
          {beside}, <a href={`/records/${entry}`}>entry {entry}</a>
        </p>
      </li>
    ))}
  </ul>
);

/** The photos at the foot of a record or a lot, and a link to add one. */
export const Photos = ({
  photos,
  addPhoto,
}: {
  readonly photos: readonly PhotoRow[];
  readonly addPhoto: string | undefined;
}) =>
  (photos.length > 0 || addPhoto !== undefined) && (
    <section aria-label="Photos">
      {photos.length > 0 && <h2>Photos</h2>}
      {photos.length > 0 && <PhotoList photos={photos} />}
      {addPhoto !== undefined && (
        <p>
          <a class="quiet" href={addPhoto}>
            Add a photo
          </a>
        </p>
      )}
    </section>
  );
