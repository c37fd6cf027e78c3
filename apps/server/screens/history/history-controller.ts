import { Body, Controller, Get, Post } from '@nestjs/common';
import { readHead } from '#libs/store/log/log.js';
import { type Printed, verifyBook } from '#libs/store/log/verify.js';
import { HistoryPage } from '#pages/history/history.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { RequireRole } from '../../http/access.js';
import { htmlPage } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';

@Controller('history')
export class HistoryController {
  @Get()
  async show(@CurrentPrincipal() principal: Principal) {
    return htmlPage(HistoryPage, { title: 'The record', here: '', head: await readHead(principal.book.read) });
  }

  /** Verifies the whole log, and compares it with a printed root and count if these were typed. */
  @Post('verify')
  @RequireRole('guest', { wholeBook: true, heavy: true })
  async verify(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const printed = printedRoot(posted);
    const verified = await verifyBook(principal.book, printed);
    return htmlPage(HistoryPage, {
      title: 'The record',
      here: '',
      head: await readHead(principal.book.read),
      verified,
      isCompared: printed !== undefined,
    });
  }
}

function printedRoot(posted: Posted): Printed | undefined {
  const root = firstText(posted['root']).replace(/\s/g, '');
  const entries = firstText(posted['entries']);
  return /^[0-9a-f]{64}$/i.test(root) && /^\d{1,9}$/.test(entries) ? { root, entries: Number(entries) } : undefined;
}
