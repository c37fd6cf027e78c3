/** Rows enough that the file is imported on a copy of the book. */
export const longFileRows = 130;

/** A file of gatherings whose ids begin with `mark`. */
export const fileOfGatherings = (mark: string, rows = longFileRows): Buffer =>
  Buffer.from(
    [
      'id,gathered_at,source,volume,by',
      ...Array.from({ length: rows }, (_, n) => `${mark}-${n},2026-03-17T16:00,upper lines,12 gal,JP`),
    ].join('\n'),
  );

export const importContext = {
  sugarhouse: 'home',
  by: 'WE',
  author: 'WE',
  now: new Date('2026-06-01T12:00:00Z'),
  zone: 'America/New_York',
};
