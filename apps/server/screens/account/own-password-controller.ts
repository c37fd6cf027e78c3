import { Body, Controller, Get, Post } from '@nestjs/common';
import { changePassword } from '#libs/actions/accounts/accounts.js';
import { invalid } from '#libs/actions/record/problem.js';
import { passwordFits } from '#libs/actions/accounts/passwords.js';
import { findPerson } from '#libs/store/household/household.js';
import { textOf } from '../set-up/text-of.js';
import { For } from '../../http/access.js';
import { type Page, page, type SeeOther, seeOther } from '../../http/responses.js';
import { type Visitor, Who } from '../../http/principal.js';

const told = { title: 'Your password', here: '' };

/** A person's own password: the old one is asked again, and every other device is signed out. */
@Controller('you/password')
export class OwnPasswordController {
  @Get()
  @For('helper')
  form(): Page {
    return page('account/password', told);
  }

  @Post()
  @For('helper')
  async change(@Who() who: Visitor, @Body() sent: Record<string, unknown>): Promise<Page | SeeOther> {
    const kept = who.kind === 'person' ? await findPerson(who.book.read, who.desk.sugarhouse, who.initials) : undefined;
    const asked = kept?.password !== undefined && !(await passwordFits(kept.password, textOf(sent['old'])));
    const done =
      asked || who.kind !== 'person'
        ? invalid('old', 'the password you have now', 'another')
        : await changePassword(who.book, who.desk.sugarhouse, {
            initials: who.initials,
            password: textOf(sent['password']),
            sparedSession: who.session,
          });
    if ('problem' in done) return page('account/password', { ...told, problem: done.problem }, 422);
    return seeOther('/you', ['Your password is changed; other devices are signed out.']);
  }
}
