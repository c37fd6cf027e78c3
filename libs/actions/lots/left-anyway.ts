/** Shown under every refusal of a dispatch: jars that have left all the same are recorded, as a deviation. */
export const leftAnyway =
  'If they have already left, say so (already_left yes): it is recorded, and waits for a maker’s initials.';
