import { invalid, unknown } from '#libs/actions/record/problem.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { exportRecord } from '#libs/store/log/export-record.js';
import { proveLot } from '#libs/store/log/proof.js';
import { walkLog } from '#libs/store/log/log.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, optionText } from '../command.js';
import {
  documentOptionHelp,
  documentOptions,
  refuseWrongEnding,
  documentName,
  writeDocument,
} from '../write-document.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The record log, one canonical JSON entry per line. */
export const log: Command = {
  ...catalogueEntry('log'),
  options: documentOptions,
  optionHelp: documentOptionHelp,
  run: async (cli) => {
    const out = optionText(cli, 'out');
    if (!out) return invalid('out', 'a file like log.jsonl, or - for standard output', 'nothing');
    const book = await cli.book();
    const entries = await writeDocument(cli, (file) =>
      book.snapshot(async (sql) => {
        let lines = 0;
        for await (const row of walkLog(sql)) {
          if (!file.write(`${row.json}\n`)) await new Promise((drained) => file.once('drain', drained));
          lines++;
        }
        return { lines };
      }),
    );
    return { json: { file: out, entries: entries.lines }, lines: [`${documentName(out)}: ${entries.lines} entries.`] };
  },
};

/** The record with the state of each lot, for a machine without this program (`verify --stand-alone`). */
export const exportCommand: Command = {
  ...catalogueEntry('export'),
  options: documentOptions,
  optionHelp: documentOptionHelp,
  run: async (cli) => {
    const out = optionText(cli, 'out') ?? '';
    const fault = await refuseWrongEnding(out, ['.json']);
    if (fault) return fault;
    const book = await cli.book();
    await writeDocument(cli, (file) =>
      book.snapshot(async (sql) => {
        for await (const text of exportRecord(sql, cli.now))
          if (!file.write(text)) await new Promise((drained) => file.once('drain', drained));
        return {};
      }),
    );
    return {
      json: { file: out },
      lines: [
        `${documentName(out)}: the whole record. To check it, run the program that book verify --stand-alone FILE.mjs writes.`,
      ],
      warnings: ['All jar codes can be calculated from this file: give it only to people who may see them.'],
    };
  },
};

/** Proves that a lot's entries are in the log with a given root, without the rest of the log. */
export const proof: Command = {
  ...catalogueEntry('proof'),
  run: async (cli) => {
    const [code] = cli.argv;
    if (code === undefined || cli.argv.length > 1)
      return invalid('lot', 'one lot code like 26077A-1', cli.argv.join(' ') || 'nothing');
    const book = await cli.book();
    const lot = await lookUpLot(sugarhouseReader(book.read, cli.writeContext.sugarhouse), code);
    if (!lot) return unknown('lot', code);
    const lotProof = await book.snapshot((sql) =>
      proveLot(sugarhouseReader(sql, cli.writeContext.sugarhouse), lot.code),
    );
    return {
      json: { lot: lot.code, ...lotProof },
      lines: [
        `${lot.code}: ${lotProof.proofs.length} entries, in a record of ${lotProof.entries} entries, root ${lotProof.root}`,
        ...lotProof.proofs.flatMap((each) => [
          '',
          `entry ${each.entry}`,
          each.text,
          `leaf ${each.leaf}`,
          ...each.path.map((hash) => `with ${hash}`),
        ]),
      ],
    };
  },
};
