import { Controller, Get } from '@nestjs/common';
import { ApiOperation, ApiTags } from '@nestjs/swagger';
import { pipeline } from 'node:stream/promises';
import { type Head, readHead, walkLog } from '#libs/store/log/log.js';
import { RequireRole } from '../http/access.js';
import { type Download, download } from '../http/responses.js';
import { type Principal, CurrentPrincipal } from '../http/principal.js';

@ApiTags('record')
@Controller('api/record')
export class RecordApi {
  @Get()
  @ApiOperation({ summary: 'How many entries the record has, and the root that stands for all of them' })
  head(@CurrentPrincipal() principal: Principal): Promise<Head> {
    return readHead(principal.book.read);
  }

  /** For the owner: it holds the seeds from which the jars' codes are drawn. */
  @Get('log.jsonl')
  @RequireRole('owner', { wholeBook: true })
  @ApiOperation({ summary: 'The whole record log, an entry a line, in canonical JSON' })
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
