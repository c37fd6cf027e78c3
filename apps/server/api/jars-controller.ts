import { Controller, Get, Param } from '@nestjs/common';
import { type Refusal, unknown } from '#libs/actions/record/problem.js';
import { type Trace, traceLot } from '#libs/actions/lots/trace-lot.js';
import { readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { type Principal, CurrentPrincipal, readerOf } from '../http/principal.js';
import { traceAnswer } from './answers/trace-answer.js';
import { Describe } from './operation.js';

@Controller('api/jars')
export class JarsApi {
  @Get(':code')
  @Describe({
    summary: 'Traces one jar: its lot, boils and sap, and where the jars of its pack were sent',
    answers: traceAnswer,
  })
  async one(@CurrentPrincipal() principal: Principal, @Param('code') code: string): Promise<Trace | Refusal> {
    if (readJarCode(code) === undefined) return unknown('jar', code);
    // No transaction: the numbers that must agree (jars made, sent, counted) come from one statement.
    return traceLot(readerOf(principal), code, principal.writeContext.now, {
      members: principal.readsAll,
    });
  }
}
