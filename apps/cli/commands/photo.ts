import { readFile } from 'node:fs/promises';
import { addPhoto } from '#libs/actions/photos/add-photo.js';
import { findPhotoRecord } from '#libs/actions/photos/find-photo-record.js';
import { invalid, unknown } from '#libs/actions/record/problem.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, optionText } from '../command.js';

export const photo: Command = {
  ...catalogueEntry('photo'),
  options: { caption: 'text' },
  optionHelp: { caption: 'What the photo shows.' },
  run: async (cli) => {
    const [record = '', path = ''] = cli.argv;
    if (record === '') return invalid('record', 'a lot code, the id of a record, or KIND/ID', 'nothing');
    if (path === '' || cli.argv.length > 2)
      return invalid('file', 'one file like seal.jpg', path === '' ? 'nothing' : cli.argv.slice(1).join(' '));
    const bytes = await readFile(path).catch((fault: NodeJS.ErrnoException) => fault);
    if (!(bytes instanceof Uint8Array)) return unknown('file', `${path} (${bytes.code ?? bytes.message})`);
    const book = await cli.book();
    const found = await findPhotoRecord(sugarhouseReader(book.read, cli.writeContext.sugarhouse), record);
    if ('problem' in found) return found;
    const added = await addPhoto(book, cli.writeContext, found, {
      bytes,
      caption: optionText(cli, 'caption') ?? '',
    });
    if ('problem' in added) return added;
    return {
      json: added,
      lines: [
        `Entry ${added.entry}: photo of ${added.kind} ${added.id}, ${added.width} × ${added.height}, SHA-256 ${added.sha256}.`,
      ],
    };
  },
};
