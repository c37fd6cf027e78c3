import { Controller, Get, HttpException } from '@nestjs/common';
import { readHead } from '#libs/store/log/log.js';
import { Open } from './access.js';
import { type Visitor, Who } from './principal.js';

@Controller('healthz')
export class HealthController {
  /** 200 when the database answers. */
  @Get()
  @Open({ costs: 0 })
  async health(@Who() who: Visitor): Promise<{ ok: true }> {
    await readHead(who.book.read).catch(() => {
      throw new HttpException('The database does not answer', 503);
    });
    return { ok: true };
  }
}
