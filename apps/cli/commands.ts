import type { Command } from './command.js';

/** Every command by its first word, loaded on demand, so that a calculator doesn't load the PDF libraries. */
const loaders: Readonly<Record<string, () => Promise<readonly Command[]>>> = {
  setup: async () => [(await import('./commands/setup.js')).setup],
  demo: async () => [(await import('./commands/demo.js')).demo],
  record: async () => (await import('./commands/record.js')).recordCommands,
  import: async () => [(await import('./commands/import-file.js')).importFile],
  trace: async () => [(await import('./commands/trace.js')).trace],
  labels: async () => [(await import('./commands/labels.js')).labels],
  cards: async () => [(await import('./commands/cards.js')).cards],
  logo: async () => [(await import('./commands/logo.js')).logo],
  stocks: async () => [(await import('./commands/stocks.js')).stocks],
  hold: async () => [(await import('./commands/hold.js')).hold],
  act: async () => [(await import('./commands/act.js')).act],
  acknowledge: async () => [(await import('./commands/acknowledge.js')).acknowledge],
  answer: async () => [(await import('./commands/answer.js')).answer],
  release: async () => [(await import('./commands/hold.js')).release],
  correct: async () => [(await import('./commands/correct.js')).correct],
  void: async () => [(await import('./commands/void.js')).voidCommand],
  photo: async () => [(await import('./commands/photo.js')).photo],
  recall: async () => [(await import('./commands/recall.js')).recall],
  'mock-recall': async () => [(await import('./commands/mock-recall.js')).mockRecall],
  practise: async () => [(await import('./commands/mock-recall.js')).practise],
  summary: async () => [(await import('./commands/summary.js')).summary],
  publish: async () => [(await import('./commands/publish.js')).publish],
  log: async () => [(await import('./commands/record-log.js')).log],
  export: async () => [(await import('./commands/record-log.js')).exportCommand],
  proof: async () => [(await import('./commands/record-log.js')).proof],
  verify: async () => [(await import('./commands/verify.js')).verify],
  backup: async () => [(await import('./commands/backup.js')).backup],
  restore: async () => [(await import('./commands/backup.js')).restore],
  move: async () => [(await import('./commands/move.js')).move],
  person: async () => {
    const { personAdd, personPassword } = await import('./commands/household.js');
    return [personAdd, personPassword];
  },
  house: async () => (await import('./commands/house.js')).houseCommands,
  key: async () => [(await import('./commands/household.js')).keyAdd],
  reckon: async () => (await import('./commands/reckon.js')).calculatorCommands,
};

/** The command named by the first one or two arguments: `person add`. */
export async function findCommand(argv: readonly string[]): Promise<Command | undefined> {
  const [first = '', second = ''] = argv;
  const found = Object.hasOwn(loaders, first) ? await loaders[first]?.() : undefined;
  return found?.find((each) => each.name === `${first} ${second}`) ?? found?.find((each) => each.name === first);
}

/** The commands whose name begins with `first`, for help; all of them without it. */
export async function commandsNamed(first?: string): Promise<Command[]> {
  const named: Command[] = [];
  for (const [name, load] of Object.entries(loaders))
    if (first === undefined || name === first) named.push(...(await load()));
  return named;
}
