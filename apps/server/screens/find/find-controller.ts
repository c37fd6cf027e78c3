import { Controller, Get, Query } from '@nestjs/common';
import { page, seeOther } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';
import { findPage } from './find-page.js';

@Controller('find')
export class FindController {
  @Get()
  async find(@Who() who: Visitor, @Query('q') typed: unknown) {
    const found = await findPage(who, typeof typed === 'string' ? typed.trim().slice(0, 200) : '');
    return 'straight' in found ? seeOther(found.straight) : page('find/find', found);
  }
}
