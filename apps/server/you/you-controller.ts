import { Controller, Get } from '@nestjs/common';
import { page } from '../web/answers.js';

@Controller('you')
export class YouController {
  @Get()
  you() {
    return page('people/you', { title: 'You', here: '' });
  }
}
