import { invalid } from '#libs/actions/record/problem.js';
import { houseFields } from '#libs/actions/kinds/house.js';
import { housesOf } from '#libs/store/household/houses.js';
import { catalogueEntry } from '../catalogue.js';
import type { Command } from '../command.js';
import { fieldHelp, fieldOptions, typedFields } from '../field-options.js';

const add: Command = {
  ...catalogueEntry('house add'),
  options: fieldOptions(houseFields, ['by', 'practice']),
  optionHelp: fieldHelp(houseFields),
  run: async (cli) => {
    const [key, ...more] = cli.argv;
    if (key === undefined || more.length > 0)
      return invalid('key', 'one key like bracken-lane', cli.argv.join(' ') || 'nothing');
    // Loads everything that writes a record, which takes longer than a list of the houses.
    const { addHouse } = await import('#libs/actions/accounts/add-house.js');
    const added = await addHouse(await cli.book(), cli.writeContext, key, typedFields(cli, houseFields));
    if ('problem' in added) return added;
    return {
      json: added,
      lines: [
        `Added ${added.name}: its lots are shown as ${added.prefix} 26077A.`,
        `Add its people with: book person add INITIALS --role owner --house ${added.prefix}`,
      ],
    };
  },
};

const list: Command = {
  ...catalogueEntry('house list'),
  run: async (cli) => {
    const houses = await housesOf((await cli.book()).read);
    return {
      json: houses,
      lines:
        houses.length === 0
          ? ['No sugarhouse is set up yet: run book setup.']
          : houses.map((house) => `${house.prefix.padEnd(4)}  ${house.key}: ${house.name}`),
    };
  },
};

export const houseCommands: readonly Command[] = [add, list];
