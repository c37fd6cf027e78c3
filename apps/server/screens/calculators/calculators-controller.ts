import { Controller, Get, Param, Query } from '@nestjs/common';
import { CalculatorListPage } from '#pages/calculators/list.js';
import { CalculatorPage } from '#pages/calculators/calculator.js';
import type { Posted } from '../../forms/field-view.js';
import { htmlPage, pageOr } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { calculatorPage, calculatorsPage } from './calculator-pages.js';

/** Calculators use GET, since nothing is written, and each result has its own address. */
@Controller('calculators')
export class CalculatorsController {
  @Get()
  list() {
    return htmlPage(CalculatorListPage, calculatorsPage());
  }

  @Get(':name')
  async show(@CurrentPrincipal() principal: Principal, @Param('name') name: string, @Query() query: Posted) {
    return pageOr(CalculatorPage, await calculatorPage(principal, name, query));
  }
}
