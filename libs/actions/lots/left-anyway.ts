/** What stands under every refusal of jars that are to leave: a fact is recorded all the same, as a deviation. */
export const leftAnyway =
  'If they have already left, say so (already_left yes): it is recorded, and waits for a maker’s initials.';
