import { Controller, Get, Param, Query } from '@nestjs/common';
import type { Posted } from '../forms/field-view.js';
import { page } from '../web/answers.js';
import { Who, type Visitor } from '../web/visitor.js';
import { questionPage, questionsPage } from './reckon-pages.js';

/** Questions at the pan: asked by GET, for nothing is written, and the answer has an address of its own. */
@Controller('reckon')
export class ReckonController {
  @Get()
  list() {
    return page('reckon/list', questionsPage());
  }

  @Get(':name')
  async ask(@Who() who: Visitor, @Param('name') name: string, @Query() asked: Posted) {
    const told = await questionPage(who, name, asked);
    return 'problem' in told ? told : page('reckon/question', told);
  }
}
