import { Controller, Get } from '@nestjs/common';
import { AccountPage } from '#pages/account/account.js';
import { htmlPage } from '../../http/responses.js';

@Controller('account')
export class AccountController {
  @Get()
  show() {
    return htmlPage(AccountPage, {});
  }
}
