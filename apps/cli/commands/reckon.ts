import type { Calculator } from '#libs/actions/calculators/calculator.js';
import { calculateForBook, calculatorFields, calculators, reckon } from '#libs/actions/calculators/calculators.js';
import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { invalid } from '#libs/actions/record/problem.js';
import { bookExists } from '#libs/store/connection/book-exists.js';
import type { CommandContext, Command } from '../command.js';
import { describeField } from '../field-options.js';

/** One command per calculator: `book reckon density --reading …`. */
export const calculatorCommands: readonly Command[] = calculators.map(reckonCommand);

function reckonCommand(calculator: Calculator): Command {
  const fields = calculatorFields(calculator);
  return {
    name: `reckon ${calculator.name}`,
    usage: fields.map((field) => (field.required ? `${field.option} …` : `[${field.option}]`)).join(' '),
    summary: calculator.title,
    options: Object.fromEntries(
      fields.map((field) => [field.option.slice(2), field.flag ? ('flag' as const) : ('text' as const)]),
    ),
    optionHelp: Object.fromEntries(fields.map((field) => [field.option.slice(2), describeField(field)])),
    run: async (cli) => {
      if (cli.argv.length > 0)
        return invalid(
          'question',
          `only options: ${fields.map((field) => field.option).join(', ')}`,
          `"${cli.argv.join(' ')}"`,
        );
      const sent = Object.fromEntries(
        fields.flatMap((field) => {
          const value = cli.options[field.option.slice(2)];
          return value === undefined ? [] : [[field.name, value]];
        }),
      );
      const answer = await calculate(cli, calculator.name, sent);
      if ('problem' in answer) return answer;
      return {
        json: answer.figures,
        lines: [
          // Points are printed as sentences.
          ...Object.entries(answer.points ? {} : answer.figures).map(
            ([name, value]) => `${name}: ${typeof value === 'object' ? JSON.stringify(value) : String(value)}`,
          ),
          '',
          ...answer.sentences,
          ...(answer.asks ?? []),
          ...(answer.points ?? []).map(({ topic, says, source }) => `${topic}: ${says}\n  Source: ${source}`),
          ...(answer.notFound ?? []).map((what) => `Not found: ${what}`),
          ...(answer.points ? [] : answer.sources).map((source) => `Source: ${source}`),
        ],
      };
    },
  };
}

/** The book's place decides which gallon is meant. A calculator writes nothing, so it doesn't create a missing book. */
async function calculate(cli: CommandContext, name: string, sent: Readonly<Record<string, unknown>>) {
  if (!bookExists(cli.settings.location))
    return reckon(name, sent, { zone: cli.settings.zone, volumes: { bareGallons: 'US' as const }, now: cli.now });
  return calculateForBook(name, sent, await loadSugarhouseContext((await cli.book()).read, cli.writeContext));
}
