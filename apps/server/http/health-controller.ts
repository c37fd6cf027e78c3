import { Controller, Get, HttpException } from '@nestjs/common';
import { readHead } from '#libs/store/log/log.js';
import { Public } from './access.js';
import { type Principal, CurrentPrincipal } from './principal.js';

@Controller('healthz')
export class HealthController {
  /** 200 when the database answers. */
  @Get()
  @Public({ costs: 0 })
  async health(@CurrentPrincipal() principal: Principal): Promise<{ ok: true }> {
    await readHead(principal.book.read).catch(() => {
      throw new HttpException('The database does not respond', 503);
    });
    return { ok: true };
  }
}
