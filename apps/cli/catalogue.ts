/** A command's name, its arguments and what it does. */
export interface Described {
  readonly name: string;
  /** After `book NAME`: `LOT --why TEXT`. */
  readonly usage: string;
  readonly says: string;
}

/** Every command, in the order of the help. Separate from the implementations, so that help loads none of them. */
export const catalogue: readonly Described[] = [
  {
    name: 'setup',
    usage: '--name TEXT --place PLACE …',
    says: 'Sets up the book: name, address, place whose rules apply, time zone. Run again, it changes the details given.',
  },
  {
    name: 'demo',
    usage: '',
    says: 'Writes the practice season into an empty data folder; PRACTICE is on every page and PDF.',
  },
  {
    name: 'record',
    usage: 'KIND [--FIELD TEXT …]',
    says: 'Records one thing: a gathering, a boil, a pack, a dispatch, a count, a check, a cleaning and the rest.',
  },
  {
    name: 'import',
    usage: 'KIND FILE.csv [--dry-run] [--correct REASON]',
    says: 'Takes a file of gatherings, receipts, boils, draws, packs, dispatches, counts or supporting records: all rows or none.',
  },
  {
    name: 'trace',
    usage: 'CODE [--down] [--why]',
    says: 'From a jar or lot up to its boils and sap; with --down to every jar and where it went.',
  },
  {
    name: 'labels',
    usage: 'LOT --stock NAME --out FILE.pdf [--force] [--from N] [--to N] [--skip N]',
    says: 'Labels for the jars of a pack, each with its own QR. The same jar always has the same code.',
  },
  {
    name: 'cards',
    usage: 'LOT --card NAME --out FILE.pdf [--force]',
    says: 'Neck tags and seal strips for the jars of a pack, or the card of a tray, case, shelf, vessel or held lot.',
  },
  {
    name: 'stocks',
    usage: '[NAME --out FILE.pdf [--force]]',
    says: 'The label stocks, by their geometry: those that come with the book, then your own. With NAME, its alignment sheet.',
  },
  {
    name: 'logo',
    usage: '[FILE.svg|FILE.png | --remove]',
    says: 'Puts a drawing of your own on labels, checked and redrawn; without a file it shows which is kept.',
  },
  { name: 'hold', usage: 'LOT --why TEXT', says: 'Holds a lot and all that its syrup went into.' },
  {
    name: 'act',
    usage: 'LOT --found TEXT --done TEXT [readings]',
    says: 'Records a corrective action, with the new readings that show it worked.',
  },
  {
    name: 'release',
    usage: 'LOT --why TEXT [--authority WHO --asked WHEN --answer TEXT]',
    says: 'Releases a held lot once no hold rule applies any more.',
  },
  {
    name: 'acknowledge',
    usage: 'DISPATCH [--note TEXT]',
    says: 'Puts a maker’s initials (--by) under a dispatch that was reported as already left.',
  },
  {
    name: 'answer',
    usage: 'LOT no|yes [--question TEXT] [--note TEXT]',
    says: 'Answers the question that a text about mould, gas or fermentation raised: is it spoilage?',
  },
  {
    name: 'correct',
    usage: 'ENTRY --why TEXT FIELD=VALUE …',
    says: 'Corrects what an entry recorded; the old value stays in the history. ENTRY is its number, or a lot code.',
  },
  {
    name: 'void',
    usage: 'ENTRY --why TEXT',
    says: 'Records that something did not happen: a double entry, or what was begun or sent by mistake. The log keeps both.',
  },
  {
    name: 'photo',
    usage: 'RECORD FILE [--caption TEXT]',
    says: 'Adds a photo (JPEG, PNG, WebP) to a record: a lot code, an id, or KIND/ID. Its place and time are removed.',
  },
  {
    name: 'recall',
    usage:
      'LOT --out FILE.pdf [--force] [--why TEXT] [--thermometer ID] [--check ID] [--day DATE] [--only-list] [--hazard TEXT] [--who TEXT] [--jars TEXT] [--paper letter|a4]',
    says: 'Recalls a lot with all that its syrup went into: who has it, what is on hand, the reconciliation, a notice to post.',
  },
  {
    name: 'practise',
    usage: '[--begin | --of ID --on-shelf N]',
    says: 'A mock recall: a jar drawn at random, traced both ways, its balance closed, the result on the record.',
  },
  { name: 'mock-recall', usage: '[--begin | --of ID --on-shelf N]', says: 'The same as practise.' },
  {
    name: 'summary',
    usage: 'YEAR --out FILE [--format FORMAT] [--paper letter|a4] [--force]',
    says: 'The yearly lot summary, by the ending of FILE: .pdf .xlsx .csv .json .jsonld (EPCIS 2.0).',
  },
  {
    name: 'publish',
    usage: 'FOLDER',
    says: 'A small static page for each jar, for any web space. Run again after a recall, it changes every page of the lot.',
  },
  {
    name: 'log',
    usage: '--out FILE.jsonl [--force]',
    says: 'Writes the whole record log as JSON lines, each entry as it was hashed.',
  },
  {
    name: 'export',
    usage: '--out FILE.json [--force]',
    says: 'Writes the whole record with the state of each lot, to be checked on any machine with Node.',
  },
  {
    name: 'proof',
    usage: 'LOT',
    says: 'For each entry about a lot, its text, its hash and the hashes that lead to the root (RFC 6962, 2.1.1).',
  },
  {
    name: 'verify',
    usage: '[--against ROOT --entries N] [--stand-alone FILE.mjs [--force]]',
    says: 'Recomputes the record log and the tables; with a printed root and count, whether that page still holds. With --stand-alone it writes the program that checks an export on a machine without Boilbook.',
  },
  {
    name: 'backup',
    usage: 'FILE [--force]',
    says: 'Copies the whole book into one file, checked before it gets its name. Works while the server runs.',
  },
  {
    name: 'restore',
    usage: 'FILE',
    says: 'Restores a backup into BOILBOOK_DATA. A book already there is kept as a copy. Stop the server first.',
  },
  {
    name: 'move',
    usage: 'WHERE',
    says: 'Copies the whole book into an empty one: WHERE is postgres://… or a folder for a SQLite book.',
  },
  {
    name: 'person add',
    usage: 'INITIALS --role ROLE [--name TEXT]',
    says: 'Adds a person: owner, maker, helper or guest. They sign in once a password is set on the people page.',
  },
  {
    name: 'person password',
    usage: 'INITIALS --password TEXT',
    says: 'Sets a new password for a person and signs out their devices; use it when nobody can sign in.',
  },
  {
    name: 'house add',
    usage: 'KEY --name TEXT --prefix LETTERS …',
    says: 'Adds a sugarhouse to the book, with lots, labels, people and summaries of its own. The key never changes.',
  },
  { name: 'house list', usage: '', says: 'The sugarhouses of the book.' },
  {
    name: 'key add',
    usage: 'NAME --role ROLE',
    says: 'Makes a key for a script, for the Authorization header. It is shown once.',
  },
  {
    name: 'reckon density',
    usage: '--reading … [--at] [--hydrometer-at] [--refractometer] [--atc]',
    says: 'A density reading brought to 20 °C',
  },
  {
    name: 'reckon float',
    usage: '--density … --at … [--hydrometer-at]',
    says: 'What the hydrometer should read in the hot cup',
  },
  {
    name: 'reckon finish',
    usage: '[--water-boils] [--pressure] [--elevation] --density …',
    says: 'The finishing point of the day',
  },
  {
    name: 'reckon thickening',
    usage: '--readings … [--water-boils] [--pressure] [--elevation] --density …',
    says: 'The boil as it goes',
  },
  { name: 'reckon thin', usage: '--syrup … --density … --target … [--with]', says: 'Too heavy: what brings it back' },
  { name: 'reckon thicken', usage: '--syrup … --density … --target …', says: 'Too thin: what still boils away' },
  {
    name: 'reckon blend',
    usage: '--first … --first-density … --second … --second-density …',
    says: 'Two lots together',
  },
  {
    name: 'reckon fill',
    usage: '--syrup … --fill … --glass … --glass-at … --density … [--material]',
    says: 'How hot it will be in the jar',
  },
  { name: 'reckon fill-level', usage: '--volume … --fill-at … --density …', says: 'How full to fill hot' },
  { name: 'reckon shrink', usage: '--fill-at … --density … [--to]', says: 'How much hot syrup shrinks' },
  { name: 'reckon weight', usage: '--volume … --density …', says: 'What the labelled volume weighs' },
  {
    name: 'reckon weighed-jars',
    usage: '--weights … [--tare] --volume … --density … [--allowance] [--citation] [--country] [--lot-size]',
    says: 'A tray of jars on the scale',
  },
  {
    name: 'reckon jar-plan',
    usage: '--syrup … [--syrup-at] [--density] --sizes …',
    says: 'How many jars this boil fills',
  },
  { name: 'reckon yield', usage: '--sap … --sugar … --density …', says: 'How much syrup this sap makes' },
  {
    name: 'reckon season-ratio',
    usage: '--sap … --sugar … --syrup … --density … [--wood]',
    says: 'What the season gave against what it should',
  },
  { name: 'reckon colour', usage: '--transmittance …', says: 'The colour class' },
  {
    name: 'reckon type-height',
    usage: '[--panel-height] [--diameter] [--panel-area] [--country]',
    says: 'How tall the net quantity must be',
  },
  {
    name: 'reckon thermometer',
    usage: '[--ice] [--boiling] [--pressure] [--elevation] [--reading]',
    says: 'Is the thermometer right?',
  },
  {
    name: 'reckon what-applies',
    usage:
      '[--place] [--product] [--farm-gate] [--market] [--shop] [--border] [--a-year] [--to-businesses] [--kitchen]',
    says: 'What applies to me?',
  },
];

/** The catalogue entry of a command, by name; throws for an unknown name, which is a bug. */
export function described(name: string): Described {
  const found = catalogue.find((each) => each.name === name);
  if (!found) throw new Error(`The catalogue has no command ${name}`);
  return found;
}
