import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { invalid, refused, unknown } from '#libs/actions/record/problem.js';
import { momentIn } from '#libs/actions/record/times.js';
import { backupChecker, listBackups } from '#libs/store/backup/list-backups.js';
import { requestRestore } from '#libs/store/backup/restore-request.js';
import { readHead } from '#libs/store/log/log.js';
import { BackupListPage } from '#pages/backups/list.js';
import { RestartingPage } from '#pages/backups/restarting.js';
import { RestorePage } from '#pages/backups/restore.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { RequireRole } from '../../http/access.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { htmlPage, pageOr } from '../../http/responses.js';
import { backupList, bookFileOf, restoreView, zoneOf } from './backup-pages.js';

/** Backups and how to restore one, for the owner of the whole book. */
@Controller('backups')
export class BackupsController {
  private readonly check = backupChecker();

  @Get()
  @RequireRole('owner', { wholeBook: true, heavy: true })
  async list(@CurrentPrincipal() principal: Principal) {
    return htmlPage(BackupListPage, await backupList(principal, this.check));
  }

  @Get(':name')
  @RequireRole('owner', { wholeBook: true, heavy: true })
  async show(@CurrentPrincipal() principal: Principal, @Param('name') name: string) {
    return pageOr(RestorePage, await this.viewOf(principal, name));
  }

  /** Notes what to restore and ends the server; its next start restores it. */
  // Not heavy: heavy requests are answered by another process, which can't end this one.
  @Post(':name/restore')
  @RequireRole('owner', { wholeBook: true })
  async restore(@CurrentPrincipal() principal: Principal, @Param('name') name: string, @Body() posted: Posted) {
    const { server, initials } = principal;
    const view = await this.viewOf(principal, name);
    if ('problem' in view) return view;
    if (firstText(posted['sure']) !== 'yes') {
      const fault = 'Tick that you have read what would change, then restore it.';
      return htmlPage(RestorePage, { ...view, fault }, 422);
    }
    if (firstText(posted['root']) !== view.root)
      return invalid('backup', 'the backup that was shown; look at it again', 'another one by the same name');
    if (!server.restart) return refused('restore', 'This server cannot start itself again: use book restore FILE.');
    requestRestore(server.settings.folder, {
      file: view.file,
      name,
      backup: { entries: view.entries, root: view.root },
      book: await readHead(principal.book.read).catch(() => undefined),
      by: initials,
      at: principal.writeContext.now.toISOString(),
    });
    // After the response is sent.
    setTimeout(server.restart.now, 500);
    return htmlPage(RestartingPage, { name, isAutomatic: server.restart.isAutomatic });
  }

  private async viewOf(principal: Principal, name: string) {
    const bookFile = bookFileOf(principal);
    const backup = bookFile && (await listBackups(bookFile)).find((each) => each.name === name);
    if (!backup) return unknown('backup', name);
    const checked = await this.check(backup);
    if ('damage' in checked) return refused('restore', `${checked.damage} Take another backup.`);
    const zone = await zoneOf(principal);
    return restoreView(principal, backup, checked, (at) => momentIn(zone, at));
  }
}
