/** Shown under every refusal of a dispatch: jars that have already left can be recorded, as a deviation. */
export const alreadyLeftHint =
  'If they have already left, record that (already_left yes): it waits for a maker’s initials.';
