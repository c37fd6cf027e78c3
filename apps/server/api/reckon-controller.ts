import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { z } from 'zod';
import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { calculatorFields, calculators, reckon } from '#libs/actions/calculators/calculators.js';
import { Public } from '../http/access.js';
import { type Principal, CurrentPrincipal } from '../http/principal.js';
import { calculatedAnswer, calculatorsAnswer } from './answers/record-answers.js';
import { Describe } from './operation.js';
import { jsonObject } from './json-object.js';

const calculatorBody = z
  .record(z.string(), z.union([z.string(), z.boolean(), z.array(z.string()), z.null()]))
  .meta({ id: 'Question' });

/** The calculators. They read nothing of the record and write nothing, so anyone may use them. */
@Controller('api/reckon')
export class CalculatorsApi {
  @Get()
  @Public()
  @Describe({ summary: 'The calculators and their parameters', answers: calculatorsAnswer })
  list(): object {
    return {
      questions: calculators.map((each) => ({ name: each.name, title: each.title, asks: calculatorFields(each) })),
    };
  }

  @Get(':question')
  @Public()
  @Describe({
    summary: 'Calculates from the query parameters, for example /api/reckon/shrink?fillAt=180+F&density=66.9+Bx',
    freeQuery: 'The fields that /api/reckon lists for the calculator, such as fillAt=180 F',
    answers: calculatedAnswer,
  })
  calculateFromQuery(
    @CurrentPrincipal() principal: Principal,
    @Param('question') name: string,
    @Query() sent: Record<string, unknown>,
  ) {
    return calculate(principal, name, { ...sent });
  }

  @Post(':question')
  @Public()
  @Describe({
    summary: 'Calculates from a JSON body',
    body: calculatorBody,
    bodyExample: { reading: '36 Be', at: '205 F' },
    answers: calculatedAnswer,
  })
  calculateFromBody(
    @CurrentPrincipal() principal: Principal,
    @Param('question') name: string,
    @Body(jsonObject) sent: Record<string, unknown>,
  ) {
    return calculate(principal, name, sent);
  }
}

async function calculate(principal: Principal, name: string, sent: Record<string, unknown>): Promise<object | Refusal> {
  const { parseOptions: options } = await loadSugarhouseContext(principal.book.read, principal.writeContext);
  const answer = reckon(name, sent, options);
  if ('problem' in answer) return answer;
  return { ...answer.figures, sentences: [...answer.sentences, ...(answer.asks ?? [])], sources: answer.sources };
}
