import { Controller, Get } from '@nestjs/common';
import { pipeline } from 'node:stream/promises';
import { type Head, readHead, walkLog } from '#libs/store/log/log.js';
import { RequireRole } from '../http/access.js';
import { type Download, download } from '../http/responses.js';
import { type Principal, CurrentPrincipal } from '../http/principal.js';
import { headAnswer } from './answers/record-answers.js';
import { Describe } from './operation.js';

@Controller('api/record')
export class RecordApi {
  @Get()
  @Describe({
    summary: 'The number of entries in the record log and the root over all of them',
    answers: headAnswer,
  })
  head(@CurrentPrincipal() principal: Principal): Promise<Head> {
    return readHead(principal.book.read);
  }

  /** For the owner: it holds the seeds from which the jars' codes are drawn. */
  @Get('log.jsonl')
  @RequireRole('owner', { wholeBook: true })
  @Describe({
    summary: 'The whole record log, one entry per line, in canonical JSON',
    answers: { media: 'application/jsonl', text: true },
  })
  log(@CurrentPrincipal() principal: Principal): Download {
    return download('record-log.jsonl', 'application/jsonl; charset=utf-8', (out) =>
      principal.book.snapshot((sql) =>
        pipeline(async function* () {
          for await (const { json } of walkLog(sql)) yield `${json}\n`;
        }, out),
      ),
    );
  }
}
