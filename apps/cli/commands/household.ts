import { addKey, addPerson, changePassword } from '#libs/actions/accounts/accounts.js';
import { invalid } from '#libs/actions/record/problem.js';
import { roles } from '#libs/store/household/household.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, optionText } from '../command.js';

export const personAdd: Command = {
  ...catalogueEntry('person add'),
  options: { role: 'text', name: 'text', password: 'text' },
  optionHelp: {
    role: `One of ${roles.join(', ')}.`,
    name: 'The person’s name.',
    password: 'A first password. The shell’s history may keep it, so change it soon.',
  },
  run: async (cli) => {
    const [initials] = cli.argv;
    if (initials === undefined || cli.argv.length > 1)
      return invalid('initials', 'initials like WE', cli.argv.join(' ') || 'nothing');
    const added = await addPerson(await cli.book(), cli.writeContext.sugarhouse, {
      initials,
      role: optionText(cli, 'role') ?? '',
      name: optionText(cli, 'name'),
      password: optionText(cli, 'password'),
    });
    return 'problem' in added ? added : { json: added, lines: [`Saved ${added.initials} as ${added.role}.`] };
  },
};

/** Anyone who can read the data folder can already read the book, so the old password isn't required. */
export const personPassword: Command = {
  ...catalogueEntry('person password'),
  options: { password: 'text' },
  optionHelp: { password: 'The new password. The shell’s history may keep it, so change it soon.' },
  run: async (cli) => {
    const [initials] = cli.argv;
    if (initials === undefined || cli.argv.length > 1)
      return invalid('initials', 'initials like WE', cli.argv.join(' ') || 'nothing');
    const password = optionText(cli, 'password') ?? '';
    const done = await changePassword(await cli.book(), cli.writeContext.sugarhouse, { initials, password });
    return 'problem' in done
      ? done
      : { json: done, lines: [`Set a new password for ${done.initials} and signed out their devices.`] };
  },
};

export const keyAdd: Command = {
  ...catalogueEntry('key add'),
  options: { role: 'text' },
  optionHelp: { role: `One of ${roles.join(', ')}.` },
  run: async (cli) => {
    const [name] = cli.argv;
    if (name === undefined || cli.argv.length > 1)
      return invalid('name', 'a name like market-sheet', cli.argv.join(' ') || 'nothing');
    const added = await addKey(
      await cli.book(),
      cli.writeContext.sugarhouse,
      { name, role: optionText(cli, 'role') ?? '' },
      cli.now,
    );
    return 'problem' in added
      ? added
      : {
          json: added,
          lines: [added.key, `API key ${added.name} with the role ${added.role}. Copy it now: it is not shown again.`],
        };
  },
};
