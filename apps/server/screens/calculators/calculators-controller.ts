import { Controller, Get, Param, Query } from '@nestjs/common';
import { CalculatorListPage } from '#pages/calculators/list.js';
import { CalculatorPage } from '#pages/calculators/question.js';
import type { Posted } from '../../forms/field-view.js';
import { htmlPage, pageOr } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { questionPage, questionsPage } from './calculator-pages.js';

/** Calculators use GET, since nothing is written, and each result has its own address. */
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
