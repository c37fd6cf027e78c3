import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { damageSentence } from '#libs/store/backup/damage.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { packageRoot } from '#libs/package-root.js';
import { catalogueEntry } from '../catalogue.js';
import { type CommandContext, type Command, type CommandOutput, optionText } from '../command.js';
import { documentOptionHelp, refuseWrongEnding, documentName, writeDocument } from '../write-document.js';

export const verify: Command = {
  ...catalogueEntry('verify'),
  options: { against: 'text', entries: 'text', 'stand-alone': 'text', force: 'flag' },
  optionHelp: {
    against: 'A root printed on a summary or on the record page; needs --entries.',
    entries: 'The number of entries printed with that root.',
    'stand-alone': 'Writes the program that checks a file of book export and needs only Node; verifies nothing itself.',
    force: documentOptionHelp.force,
  },
  run: async (cli) => {
    if (optionText(cli, 'stand-alone') !== undefined) return writeVerifier(cli);
    const root = optionText(cli, 'against');
    const entries = optionText(cli, 'entries');
    if ((root === undefined) !== (entries === undefined))
      return invalid('against', '--against ROOT and --entries N together, as printed on the page', 'one of them');
    if (root !== undefined && !/^[0-9a-f]{64}$/i.test(root))
      return invalid('against', 'a root of 64 hexadecimal digits', `"${root}"`);
    if (entries !== undefined && !/^\d{1,9}$/.test(entries))
      return invalid('entries', 'a whole number', `"${entries}"`);
    const printed = root === undefined ? undefined : { root, entries: Number(entries) };
    const verified = await verifyBook(await cli.book(), printed);
    const recordText = `${verified.entries} entries, root ${verified.root}`;
    if (!verified.ok)
      return {
        json: verified,
        lines: [recordText],
        warnings: [
          `Verification failed. First difference: ${verified.firstDifference ?? ''}`,
          ...(await restoreInstructions(cli, verified.firstDifference)),
        ],
        exit: 4,
      };
    return {
      json: verified,
      lines: [
        `Verified: ${recordText}`,
        ...(printed ? [`The first ${printed.entries} entries have the printed root.`] : []),
      ],
    };
  },
};

async function writeVerifier(cli: CommandContext): Promise<CommandOutput | Refusal> {
  const out = optionText(cli, 'stand-alone') ?? '';
  const fault = await refuseWrongEnding(out, ['.mjs']);
  if (fault) return fault;
  const text = readFileSync(join(packageRoot, 'apps/verifier/verify-record.mjs'));
  await writeDocument({ ...cli, options: { ...cli.options, out } }, async (file) => file.write(text));
  return {
    json: { file: out },
    lines: [`${documentName(out)}: the program that checks an export. Run it with: node ${out} record.json`],
  };
}

/** For a damaged file: how to restore the last good backup. */
async function restoreInstructions({ settings: { location } }: CommandContext, found = ''): Promise<string[]> {
  return 'file' in location && found.startsWith('the file is damaged')
    ? [await damageSentence(location.file, found)]
    : [];
}
