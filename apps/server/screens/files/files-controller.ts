import { createReadStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { Body, Controller, Get, Param, Post, Req } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import type { FastifyRequest } from 'fastify';
import { fileKinds } from '#libs/actions/kinds/registry.js';
import { invalid, unknown } from '#libs/actions/record/problem.js';
import { packageRoot } from '#libs/package-root.js';
import { backUpBook } from '#libs/store/backup/backup.js';
import { exportRecord } from '#libs/store/log/export-record.js';
import { recordsOf } from '#libs/store/queries/lots.js';
import { FilePreviewPage } from '#pages/files/preview.js';
import { FilesPage } from '#pages/files/files.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { RequireRole } from '../../http/access.js';
import { requireRight } from '../../http/may-write.js';
import { download, htmlPage, redirect } from '../../http/responses.js';
import { CurrentPrincipal, type Principal, readerOf } from '../../http/principal.js';
import { exportCsv } from './export-csv.js';
import { importInProcess } from '../../imports/import-process.js';
import { filesPage, previewPage } from './files-pages.js';
import { firstRowsOf } from './first-rows.js';
import { readUpload } from './read-upload.js';
import { keepUntilImport, findPreviewedFile } from './previewed-files.js';

/** A file previewed in the practice book can't be imported into the real one, even under the same initials. */
const previewedBy = ({ practice, writeContext: context, initials }: Principal): string =>
  `${practice ? 'practice' : 'record'} ${context.sugarhouse} ${initials}`;

@Controller('files')
export class FilesController {
  @Get()
  files() {
    return htmlPage(FilesPage, filesPage());
  }

  /** Previews an import: everything it would do, or every fault; nothing is written. */
  @Post('preview')
  @RequireRole(rights.import, { takes: 'file' })
  async preview(@CurrentPrincipal() principal: Principal, @Req() request: FastifyRequest) {
    const upload = await readUpload(request);
    const kind = fileKinds.find((each) => each.plural === upload.fields['kind']);
    if (!kind || upload.bytes.length === 0)
      return htmlPage(
        FilesPage,
        filesPage(
          kind
            ? 'The file: expected a CSV file with a header row, got nothing'
            : 'Kind of records: expected one of the kinds, got nothing',
        ),
        422,
      );
    const why = upload.fields['why']?.trim() || undefined;
    requireRight(principal, kind);
    const view = await importInProcess(
      principal.book,
      { ...principal.writeContext, from: 'file' },
      kind,
      upload.bytes,
      {
        dryRun: true,
        why,
      },
    );
    const isValid = view.faultCount + view.refusalCount === 0;
    const ticket = isValid
      ? keepUntilImport({
          kind: kind.plural,
          bytes: upload.bytes,
          name: upload.name,
          why,
          by: previewedBy(principal),
        })
      : undefined;
    const firstRows = isValid ? firstRowsOf(kind, upload.bytes) : [];
    return htmlPage(FilePreviewPage, previewPage(view, upload.name, firstRows, ticket), isValid ? 200 : 422);
  }

  @Post('import')
  @RequireRole(rights.import)
  async import(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const file = findPreviewedFile(firstText(posted['ticket']), previewedBy(principal));
    const kind = fileKinds.find((each) => each.plural === file?.kind);
    if (!file || !kind) return invalid('file', 'the file that was checked; choose it again', 'nothing');
    requireRight(principal, kind);
    const done = await importInProcess(
      principal.book,
      { ...principal.writeContext, from: `file ${file.name}` },
      kind,
      file.bytes,
      {
        why: file.why,
      },
    );
    if (done.faultCount + done.refusalCount > 0)
      return htmlPage(FilePreviewPage, previewPage(done, file.name, []), 422);
    return redirect('/files', [
      `${file.name}: ${done.written} written, ${done.corrected} corrected, ${done.same} already recorded.`,
      ...done.notes.slice(0, 10),
    ]);
  }

  @Get('export/:plural.csv')
  async export(@CurrentPrincipal() principal: Principal, @Param('plural') plural: string) {
    const kind = fileKinds.find((each) => each.plural === plural);
    if (!kind) return unknown('kind of file', plural);
    const records = await recordsOf(readerOf(principal), kind.kind);
    return download(`${plural}.csv`, 'text/csv; charset=utf-8', async (out) => void out.end(exportCsv(kind, records)));
  }

  /**
   * Every entry with its hash and the state of each lot. It contains the seeds of jar codes, so only the owner may hand
   * it out.
   */
  @Get('record.json')
  @RequireRole('owner', { wholeBook: true, heavy: true })
  record(@CurrentPrincipal() principal: Principal) {
    return download('boilbook-record.json', 'application/json; charset=utf-8', (out) =>
      principal.book.snapshot((sql) => pipeline(Readable.from(exportRecord(sql, principal.writeContext.now)), out)),
    );
  }

  /** The program that recomputes the root and the holds from that export, on any machine with Node. */
  @Get('verify-record.mjs')
  verifier() {
    return download('verify-record.mjs', 'text/javascript; charset=utf-8', (out) =>
      pipeline(createReadStream(join(packageRoot, 'apps/verifier/verify-record.mjs')), out),
    );
  }

  /** The whole book in one file, password hashes included: only for its owner. */
  @Post('backup')
  @RequireRole('owner', { wholeBook: true, heavy: true })
  backup(@CurrentPrincipal() principal: Principal) {
    const day = principal.writeContext.now.toISOString().slice(0, 10);
    return download(`boilbook-${day}.sqlite`, 'application/vnd.sqlite3', async (out) => {
      const folder = await mkdtemp(join(tmpdir(), 'boilbook-backup-'));
      try {
        await backUpBook(principal.book, join(folder, 'book.sqlite'));
        await pipeline(createReadStream(join(folder, 'book.sqlite')), out);
      } finally {
        await rm(folder, { recursive: true, force: true });
      }
    });
  }
}
