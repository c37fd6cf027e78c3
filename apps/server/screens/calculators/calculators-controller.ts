import { Controller, Get, Param, Query } from '@nestjs/common';
import { CalculatorListPage } from '#pages/calculators/list.js';
import { CalculatorPage } from '#pages/calculators/question.js';
import type { Posted } from '../../forms/field-view.js';
import { htmlPage, pageOr } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { questionPage, questionsPage } from './calculator-pages.js';

/** Questions at the pan: asked by GET, for nothing is written, and the answer has an address of its own. */
@Controller('calculators')
export class CalculatorsController {
  @Get()
  list() {
    return htmlPage(CalculatorListPage, questionsPage());
  }

  @Get(':name')
  async ask(@CurrentPrincipal() principal: Principal, @Param('name') name: string, @Query() query: Posted) {
    return pageOr(CalculatorPage, await questionPage(principal, name, query));
  }
}
