import { Controller, Get } from '@nestjs/common';
import { page } from '../web/answers.js';
import { Who, type Visitor } from '../web/visitor.js';
import { todayPage } from './today-page.js';

@Controller()
export class TodayController {
  @Get()
  async today(@Who() who: Visitor) {
    return page('today/today', await todayPage(who));
  }
}
