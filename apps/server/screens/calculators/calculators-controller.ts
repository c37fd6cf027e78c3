import { Controller, Get, Param, Query } from '@nestjs/common';
import type { Posted } from '../../forms/field-view.js';
import { page } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';
import { questionPage, questionsPage } from './calculator-pages.js';

/** Questions at the pan: asked by GET, for nothing is written, and the answer has an address of its own. */
@Controller('reckon')
export class ReckonController {
  @Get()
  list() {
    return page('calculators/list', questionsPage());
  }

  @Get(':name')
  async ask(@Who() who: Visitor, @Param('name') name: string, @Query() asked: Posted) {
    const told = await questionPage(who, name, asked);
    return 'problem' in told ? told : page('calculators/question', told);
  }
}
