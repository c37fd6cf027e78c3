import { findRecord } from '#libs/store/queries/lots.js';
import { usualMeasures } from '#libs/actions/places/usual-measures.js';
import { changeHouse } from '#libs/actions/record/change-house.js';
import { houseFields } from '#libs/actions/kinds/house.js';
import { catalogueEntry } from '../catalogue.js';
import type { Command } from '../command.js';
import { fieldHelp, fieldOptions, typedFields } from '../field-options.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Sets the book up, or changes the details that are given; the others stay. */
export const setup: Command = {
  ...catalogueEntry('setup'),
  options: fieldOptions(houseFields, ['by', 'practice']),
  optionHelp: fieldHelp(houseFields),
  run: async (cli) => {
    const book = await cli.book();
    const stored = await findRecord(sugarhouseReader(book.read, cli.writeContext.sugarhouse), 'house', 'house');
    const input = typedFields(cli, houseFields);
    const recorded = await changeHouse(
      book,
      cli.writeContext,
      {
        ...(stored ? stored.typed : usualMeasures(typeof input['place'] === 'string' ? input['place'] : '')),
        ...input,
      },
      'set up anew',
    );
    if ('problem' in recorded) return recorded;
    const house = (await findRecord(sugarhouseReader(book.read, cli.writeContext.sugarhouse), 'house', 'house'))?.body;
    return {
      json: { ...recorded, house },
      lines: [
        `${String(house?.['name'])}: rules of ${String(house?.['place']) || 'the US grade standard'}, times in ${String(house?.['zone'])}.`,
      ],
    };
  },
};
