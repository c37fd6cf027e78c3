import type { Role } from '#libs/store/household/household.js';
import { rights } from './rights.js';

/** What each right of the table lets somebody do. A right without a text doesn't compile. */
export const rightText: Readonly<Record<keyof typeof rights, string>> = {
  gathering: 'gathered sap',
  'boil underway': 'boils as they go',
  'pack underway': 'packs as they go',
  line: 'readings at the pan',
  draw: 'draw-offs',
  check: 'instrument checks',
  cleaning: 'cleaning',
  filter: 'filters',
  labels: 'printed labels',
  count: 'counts of the shelf',
  spent: 'what was used at home or thrown out',
  photo: 'photos',
  verification: 'verifications of a lot',
  'look at a return': 'how returned jars are',
  'already left': 'jars that have already left',
  'recall-call': 'the calls of a recall',
  boil: 'finished boils from paper',
  pack: 'finished packs from paper',
  receipt: 'bought sap and syrup',
  dispatch: 'jars sent out, kept or taken back',
  mark: 'holds, releases and recalls',
  action: 'corrective actions',
  answer: 'answers to questions about spoilage',
  complaint: 'complaints',
  acknowledgement: 'initials for jars that had already left',
  correction: 'corrections and voids',
  import: 'imported files',
  'for another': 'entries under another’s initials',
  instrument: 'instruments',
  equipment: 'equipment',
  supply: 'supplies',
  stock: 'label sheets',
  licence: 'licences',
  training: 'training',
  'lead-test': 'lead tests',
  'water-test': 'water tests',
  'practice-recall': 'mock recalls',
  house: 'the details of the sugarhouse',
  season: 'the close of a season',
};

/** What a role may do, made from the table of rights so that it says neither more nor less. */
export function roleText(role: Role): string {
  const own = (writer: Role): string => {
    const texts = Object.entries(rightText).flatMap(([right, text]) =>
      rights[right as keyof typeof rights] === writer ? [text] : [],
    );
    return `${texts.slice(0, -1).join(', ')} and ${texts.at(-1) ?? ''}`;
  };
  switch (role) {
    case 'guest':
      return 'reads only';
    case 'helper':
      return `records ${own('helper')}, all under their own initials`;
    case 'maker':
      return `all that a helper does, and ${own('maker')}`;
    case 'packer':
      return 'all that a maker does, and reads the books of the other sugarhouses';
    case 'owner':
      return `everything: also ${own('owner')}, people and keys, backups and restoring one`;
  }
}
