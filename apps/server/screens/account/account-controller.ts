import { Controller, Get } from '@nestjs/common';
import { AccountPage } from '#pages/account/account.js';
import { htmlPage } from '../../http/responses.js';

@Controller('you')
export class AccountController {
  @Get()
  you() {
    return htmlPage(AccountPage, {});
  }
}
