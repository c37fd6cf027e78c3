import { Body, Controller, Get, Post } from '@nestjs/common';
import { readHead } from '#libs/store/log/log.js';
import { type Printed, verifyBook } from '#libs/store/log/verify.js';
import { one, type Posted } from '../../forms/field-view.js';
import { For } from '../../http/access.js';
import { page } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';

@Controller('record')
export class RecordController {
  @Get()
  async show(@Who() who: Visitor) {
    return page('history/history', { title: 'The record', here: '', head: await readHead(who.book.read) });
  }

  /** Works everything out again; a printed root and count are held against it where they were typed. */
  @Post('verify')
  @For('guest', { wholeBook: true, heavy: true })
  async verify(@Who() who: Visitor, @Body() posted: Posted) {
    const printed = printedOn(posted);
    const verified = await verifyBook(who.book, printed);
    return page('history/history', {
      title: 'The record',
      here: '',
      head: await readHead(who.book.read),
      verified,
      printed,
    });
  }
}

function printedOn(posted: Posted): Printed | undefined {
  const root = one(posted['root']).replace(/\s/g, '');
  const entries = one(posted['entries']);
  return /^[0-9a-f]{64}$/i.test(root) && /^\d{1,9}$/.test(entries) ? { root, entries: Number(entries) } : undefined;
}
