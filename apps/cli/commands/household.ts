import { addKey, addPerson, changePassword } from '#libs/actions/accounts/accounts.js';
import { invalid } from '#libs/actions/record/problem.js';
import { described } from '../catalogue.js';
import { type Command, optionText } from '../command.js';

export const personAdd: Command = {
  ...described('person add'),
  options: { role: 'text', name: 'text', password: 'text' },
  meaning: {
    name: 'the person’s name',
    password: 'a first password; the shell may remember it, so change it soon',
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
    return 'problem' in added ? added : { json: added, lines: [`${added.initials} is ${added.role}.`] };
  },
};

/** Anyone who can read the data folder can already read the book, so the old password isn't required. */
export const personPassword: Command = {
  ...described('person password'),
  options: { password: 'text' },
  meaning: { password: 'the new password; the shell may remember it, so change it soon' },
  run: async (cli) => {
    const [initials] = cli.argv;
    if (initials === undefined || cli.argv.length > 1)
      return invalid('initials', 'initials like WE', cli.argv.join(' ') || 'nothing');
    const password = optionText(cli, 'password') ?? '';
    const done = await changePassword(await cli.book(), cli.writeContext.sugarhouse, { initials, password });
    return 'problem' in done ? done : { json: done, lines: [`${done.initials} has a new password.`] };
  },
};

export const keyAdd: Command = {
  ...described('key add'),
  options: { role: 'text' },
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
      : { json: added, lines: [added.key, `Key ${added.name}, ${added.role}. It is not shown again.`] };
  },
};
