/**
 * What can be printed for a lot besides its labels: one per jar of a pack, or one card for a tray, vessel, case or
 * shelf.
 */
export const lotCardNames = {
  neck: 'neck tags with the story, one for each jar',
  seal: 'strips that break when the lid is turned, one for each jar',
  tray: 'a card for a tray of jars that have no labels yet',
  case: 'a card for a case',
  shelf: 'a card for the shelf',
  vessel: 'a tag for a vessel that holds the syrup of a boil',
  hold: 'the card that says a lot is held or recalled',
} as const;
export type LotCardName = keyof typeof lotCardNames;
/** Whether this names one of a lot's cards. */
export const isLotCardName = (text: string): text is LotCardName => Object.hasOwn(lotCardNames, text);
