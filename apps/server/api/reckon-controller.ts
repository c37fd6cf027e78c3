import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { ApiOperation, ApiTags } from '@nestjs/swagger';
import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { questionFields, questions, reckon } from '#libs/actions/calculators/calculators.js';
import { Public } from '../http/access.js';
import { type Principal, CurrentPrincipal } from '../http/principal.js';
import { sentObject } from './sent-object.js';

/** The questions at the pan. They read nothing of the record and write nothing, so anybody may ask. */
@ApiTags('reckon')
@Controller('api/reckon')
export class CalculatorsApi {
  @Get()
  @Public()
  @ApiOperation({ summary: 'The questions that can be asked, and what each takes' })
  list(): object {
    return { questions: questions.map((each) => ({ name: each.name, title: each.title, asks: questionFields(each) })) };
  }

  @Get(':question')
  @Public()
  @ApiOperation({ summary: 'Answers a question from the query: /api/reckon/shrink?fillAt=180+F&density=66.9+Bx' })
  ask(
    @CurrentPrincipal() principal: Principal,
    @Param('question') question: string,
    @Query() sent: Record<string, unknown>,
  ) {
    return answered(principal, question, { ...sent });
  }

  @Post(':question')
  @Public()
  @ApiOperation({ summary: 'Answers a question from a body' })
  post(
    @CurrentPrincipal() principal: Principal,
    @Param('question') question: string,
    @Body(sentObject) sent: Record<string, unknown>,
  ) {
    return answered(principal, question, sent);
  }
}

async function answered(
  principal: Principal,
  question: string,
  sent: Record<string, unknown>,
): Promise<object | Refusal> {
  const { manner: options } = await loadSugarhouseContext(principal.book.read, principal.desk);
  const answer = reckon(question, sent, options);
  if ('problem' in answer) return answer;
  return { ...answer.figures, sentences: [...answer.sentences, ...(answer.asks ?? [])], sources: answer.sources };
}
