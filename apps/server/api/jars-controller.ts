import { Controller, Get, Param } from '@nestjs/common';
import { type Refusal, unknown } from '#libs/actions/record/problem.js';
import { loadJar, type Trace, traceLot, traceOfJar } from '#libs/actions/lots/trace-lot.js';
import { readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { type Principal, CurrentPrincipal, readerOf } from '../http/principal.js';
import { packTraceFor } from '../http/pack-trace.js';
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
    const reader = readerOf(principal);
    const read = await loadJar(reader, code);
    const found = read && (await packTraceFor(principal, read.jar.pack));
    if (found) return traceOfJar(found, read).trace;
    // A lot's own id may look like a jar code.
    return traceLot(reader, code, principal.writeContext.now, { members: principal.readsAll });
  }
}
