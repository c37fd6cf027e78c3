/** A command's name, its arguments and what it does. */
export interface CommandHelp {
  readonly name: string;
  /** After `book NAME`: `LOT --why TEXT`. */
  readonly usage: string;
  readonly summary: string;
}

/** Every command, in the order of the help. Separate from the implementations, so that help loads none of them. */
export const catalogue: readonly CommandHelp[] = [
  {
    name: 'setup',
    usage: '--name TEXT --place PLACE …',
    summary: 'Sets up the book: name, address, place whose rules apply, time zone. Run it again to change details.',
  },
  {
    name: 'demo',
    usage: '',
    summary: 'Fills an empty data folder with an invented practice season; every page and PDF is marked PRACTICE.',
  },
  {
    name: 'record',
    usage: 'KIND [--FIELD TEXT …]',
    summary:
      'Saves one record, for example a pack or a dispatch. book record lists the kinds, book record KIND --help the fields of one.',
  },
  {
    name: 'import',
    usage: 'KIND FILE.csv [--dry-run] [--correct REASON]',
    summary:
      'Imports a CSV file of gatherings, receipts, boils, draws, packs, dispatches, counts or supporting records: all rows or none.',
  },
  {
    name: 'trace',
    usage: 'CODE [--down] [--why]',
    summary: 'Traces a jar or lot back to its boils and sap; with --down, forward to every jar and where it went.',
  },
  {
    name: 'labels',
    usage: 'LOT --stock NAME --out FILE.pdf [--force] [--from N] [--to N] [--skip N]',
    summary: 'Prints labels for the jars of a pack, each with its own QR code. The same jar always gets the same code.',
  },
  {
    name: 'cards',
    usage: 'LOT --card NAME --out FILE.pdf [--force]',
    summary:
      'Prints neck tags or seal strips for the jars of a pack, or a card for a tray, case, shelf, vessel or held lot.',
  },
  {
    name: 'stocks',
    usage: '[NAME --out FILE.pdf [--force]]',
    summary:
      'Lists the label stocks with their sizes: the built-in ones, then your own. With NAME, writes its alignment sheet.',
  },
  {
    name: 'logo',
    usage: '[FILE.svg|FILE.png | --remove]',
    summary: 'Checks a drawing or logo and puts it on labels. Without a file, describes the current one.',
  },
  { name: 'hold', usage: 'LOT --why TEXT', summary: 'Holds a lot and every lot made from its syrup.' },
  {
    name: 'act',
    usage: 'LOT --found TEXT --cause CAUSE --done TEXT --jars SPAN [readings]',
    summary: 'Records a corrective action, its cause, the jars and the new readings that show it worked.',
  },
  {
    name: 'release',
    usage: 'LOT --why TEXT [--authority WHO --asked WHEN --answer TEXT]',
    summary: 'Releases a held lot. Refused while a hold rule still applies.',
  },
  {
    name: 'acknowledge',
    usage: 'DISPATCH [--note TEXT]',
    summary: 'Records that a maker (--by) has seen the report of a dispatch whose jars had already left.',
  },
  {
    name: 'answer',
    usage: 'LOT no|yes [--question TEXT] [--note TEXT]',
    summary: 'Answers the question whether a note that mentions mould, gas or fermentation means spoilage.',
  },
  {
    name: 'correct',
    usage: 'ENTRY --why TEXT FIELD=VALUE …',
    summary: 'Corrects a record; the old value stays in the history. ENTRY is the number of the entry, or a lot code.',
  },
  {
    name: 'void',
    usage: 'ENTRY --why TEXT',
    summary:
      'Voids a record of something that did not happen, such as a double entry. The log keeps it and the reason.',
  },
  {
    name: 'photo',
    usage: 'RECORD FILE [--caption TEXT]',
    summary:
      'Adds a photo (JPEG, PNG, WebP) to a record: a lot code, an id, or KIND/ID. Location and time are removed from the file.',
  },
  {
    name: 'recall',
    usage:
      'LOT --out FILE.pdf [--force] [--why TEXT] [--thermometer ID] [--check ID] [--day DATE] [--only-list] [--hazard TEXT] [--who TEXT] [--jars TEXT] [--paper letter|a4]',
    summary:
      'Recalls a lot and every lot made from its syrup. The PDF lists who has it, what is on hand and the reconciliation, with a notice to post.',
  },
  {
    name: 'practise',
    usage: '[--begin | --of ID --on-shelf N]',
    summary:
      'Runs a mock recall (traceability exercise): picks a jar at random, traces it to its sap and to the other jars, reconciles their numbers and records the result.',
  },
  { name: 'mock-recall', usage: '[--begin | --of ID --on-shelf N]', summary: 'The same as practise.' },
  {
    name: 'summary',
    usage: 'YEAR --out FILE [--format FORMAT] [--paper letter|a4] [--force]',
    summary: 'Writes the yearly lot summary in the format of FILE’s ending: .pdf .xlsx .csv .json .jsonld (EPCIS 2.0).',
  },
  {
    name: 'publish',
    usage: 'FOLDER',
    summary:
      'Writes a static page for each jar, to upload to any web host. Run it again after a hold, release or recall, and upload the folder again.',
  },
  {
    name: 'log',
    usage: '--out FILE.jsonl [--force]',
    summary: 'Writes the whole record log, one JSON entry per line, exactly as hashed.',
  },
  {
    name: 'export',
    usage: '--out FILE.json [--force]',
    summary:
      'Writes the whole record and the status of each lot to one file, which book verify --stand-alone’s program checks.',
  },
  {
    name: 'proof',
    usage: 'LOT',
    summary: 'Prints each entry about a lot with its hash and the hashes that lead to the root (RFC 6962, 2.1.1).',
  },
  {
    name: 'verify',
    usage: '[--against ROOT --entries N] [--stand-alone FILE.mjs [--force]]',
    summary:
      'Recomputes the record log and the tables and reports the first difference. With --against and --entries, also compares them with a printed root. With --stand-alone, writes the program that checks an export without Boilbook.',
  },
  {
    name: 'backup',
    usage: 'FILE [--force]',
    summary: 'Copies the whole book into one file and checks the copy. Works while the server runs.',
  },
  {
    name: 'restore',
    usage: 'FILE',
    summary:
      'Restores a backup into BOILBOOK_DATA. A book already there is kept under another name. Stop the server first.',
  },
  {
    name: 'move',
    usage: 'WHERE',
    summary:
      'Copies the whole book into a new one: WHERE is postgres://… or a folder for a SQLite book. The old book stays unchanged.',
  },
  {
    name: 'person add',
    usage: 'INITIALS --role ROLE [--name TEXT]',
    summary: 'Adds a person, or changes their role. They can sign in once they have a password.',
  },
  {
    name: 'person password',
    usage: 'INITIALS --password TEXT',
    summary: 'Sets a new password for a person and signs out their devices; use it when nobody can sign in.',
  },
  {
    name: 'house add',
    usage: 'KEY --name TEXT --prefix LETTERS …',
    summary: 'Adds a sugarhouse to the book, with its own lots, labels, people and summaries. The key never changes.',
  },
  { name: 'house list', usage: '', summary: 'Lists the sugarhouses of the book.' },
  {
    name: 'key add',
    usage: 'NAME --role ROLE',
    summary: 'Makes an API key for a script (header Authorization: Bearer KEY). It is shown once.',
  },
  {
    name: 'reckon density',
    usage: '--reading … [--at] [--hydrometer-at] [--refractometer] [--atc]',
    summary: 'Correct a density reading to 20 °C',
  },
  {
    name: 'reckon float',
    usage: '--density … --at … [--hydrometer-at]',
    summary: 'What the hydrometer should read in the hot cup',
  },
  {
    name: 'reckon finish',
    usage: '[--water-boils] [--pressure] [--elevation] --density …',
    summary: 'Today’s finishing temperature',
  },
  {
    name: 'reckon thickening',
    usage: '--readings … [--water-boils] [--pressure] [--elevation] --density …',
    summary: 'When to draw off',
  },
  {
    name: 'reckon thin',
    usage: '--syrup … --density … --target … [--with]',
    summary: 'Too heavy: how much to thin it',
  },
  { name: 'reckon thicken', usage: '--syrup … --density … --target …', summary: 'Too thin: how much to boil off' },
  {
    name: 'reckon blend',
    usage: '--first … --first-density … --second … --second-density …',
    summary: 'Blend two lots',
  },
  {
    name: 'reckon fill',
    usage: '--syrup … --fill … --glass … --glass-at … --density … [--material]',
    summary: 'Temperature in the jar',
  },
  { name: 'reckon fill-level', usage: '--volume … --fill-at … --density …', summary: 'How full to fill a hot jar' },
  { name: 'reckon shrink', usage: '--fill-at … --density … [--to]', summary: 'Shrinkage of hot syrup' },
  { name: 'reckon weight', usage: '--volume … --density …', summary: 'Weight of the net contents' },
  {
    name: 'reckon weighed-jars',
    usage: '--weights … [--tare] --volume … --density … [--allowance] [--citation] [--country] [--lot-size]',
    summary: 'Check net contents by weighing',
  },
  {
    name: 'reckon jar-plan',
    usage: '--syrup … [--syrup-at] [--density] --sizes …',
    summary: 'How many jars a boil fills',
  },
  { name: 'reckon yield', usage: '--sap … --sugar … --density …', summary: 'How much syrup the sap makes' },
  {
    name: 'reckon season-ratio',
    usage: '--sap … --sugar … --syrup … --density … [--wood]',
    summary: 'Season yield against expected',
  },
  { name: 'reckon colour', usage: '--transmittance …', summary: 'Colour class' },
  {
    name: 'reckon type-height',
    usage: '[--panel-height] [--diameter] [--panel-area] [--country]',
    summary: 'Type height of the net quantity',
  },
  {
    name: 'reckon thermometer',
    usage: '[--ice] [--boiling] [--pressure] [--elevation] [--reading]',
    summary: 'Is the thermometer right?',
  },
  {
    name: 'reckon what-applies',
    usage:
      '[--place] [--product] [--farm-gate] [--market] [--shop] [--border] [--a-year] [--to-businesses] [--kitchen]',
    summary: 'What applies to me?',
  },
];

/** The catalogue entry of a command, by name; throws for an unknown name, which is a bug. */
export function catalogueEntry(name: string): CommandHelp {
  const found = catalogue.find((each) => each.name === name);
  if (!found) throw new Error(`No command ${name} in the catalogue`);
  return found;
}
