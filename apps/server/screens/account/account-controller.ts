import { Controller, Get } from '@nestjs/common';
import { page } from '../../http/responses.js';

@Controller('you')
export class AccountController {
  @Get()
  you() {
    return page('account/account', { title: 'You', here: '' });
  }
}
