import { addKey, addPerson, changePassword } from '#libs/actions/accounts/accounts.js';
import { invalid } from '#libs/actions/record/problem.js';
import { described } from '../catalogue.js';
import { type Command, optionText } from '../command.js';

export const personAdd: Command = {
  ...described('person add'),
  options: { role: 'text', name: 'text', password: 'text' },
  meaning: {
    name: 'the name the initials stand for',
    password: 'a first password; the shell may remember it, so change it soon',
  },
  run: async (bench) => {
    const [initials] = bench.argv;
    if (initials === undefined || bench.argv.length > 1)
      return invalid('initials', 'initials like WE', bench.argv.join(' ') || 'nothing');
    const added = await addPerson(await bench.book(), bench.writeContext.sugarhouse, {
      initials,
      role: optionText(bench, 'role') ?? '',
      name: optionText(bench, 'name'),
      password: optionText(bench, 'password'),
    });
    return 'problem' in added ? added : { json: added, lines: [`${added.initials} is ${added.role}.`] };
  },
};

/** Whoever may read the data folder may already read the book, so no old password is asked. */
export const personPassword: Command = {
  ...described('person password'),
  options: { password: 'text' },
  meaning: { password: 'the new password; the shell may remember it, so change it soon' },
  run: async (bench) => {
    const [initials] = bench.argv;
    if (initials === undefined || bench.argv.length > 1)
      return invalid('initials', 'initials like WE', bench.argv.join(' ') || 'nothing');
    const password = optionText(bench, 'password') ?? '';
    const done = await changePassword(await bench.book(), bench.writeContext.sugarhouse, { initials, password });
    return 'problem' in done ? done : { json: done, lines: [`${done.initials} has a new password.`] };
  },
};

export const keyAdd: Command = {
  ...described('key add'),
  options: { role: 'text' },
  run: async (bench) => {
    const [name] = bench.argv;
    if (name === undefined || bench.argv.length > 1)
      return invalid('name', 'a name like market-sheet', bench.argv.join(' ') || 'nothing');
    const added = await addKey(
      await bench.book(),
      bench.writeContext.sugarhouse,
      { name, role: optionText(bench, 'role') ?? '' },
      bench.now,
    );
    return 'problem' in added
      ? added
      : { json: added, lines: [added.key, `Key ${added.name}, ${added.role}. It is not shown again.`] };
  },
};
