import { Body, Controller, Get, Post } from '@nestjs/common';
import { changePassword } from '#libs/actions/accounts/accounts.js';
import { invalid } from '#libs/actions/record/problem.js';
import { verifyPassword } from '#libs/actions/accounts/passwords.js';
import { findPerson } from '#libs/store/household/household.js';
import { PasswordPage } from '#pages/account/password.js';
import { textOf } from '../set-up/text-of.js';
import { faultLines } from '../../forms/fault-lines.js';
import { RequireRole } from '../../http/access.js';
import { type HtmlPage, htmlPage, type Redirect, redirect } from '../../http/responses.js';
import { type Principal, CurrentPrincipal, readerOf } from '../../http/principal.js';

/** Changes a person's own password: the old one is required, and every other device is signed out. */
@Controller('account/password')
export class OwnPasswordController {
  @Get()
  @RequireRole('helper')
  form(): HtmlPage {
    return htmlPage(PasswordPage, { faults: [] });
  }

  @Post()
  @RequireRole('helper')
  async change(
    @CurrentPrincipal() principal: Principal,
    @Body() sent: Record<string, unknown>,
  ): Promise<HtmlPage | Redirect> {
    const saved = principal.kind === 'person' ? await findPerson(readerOf(principal), principal.initials) : undefined;
    const isWrongPassword =
      saved?.password !== undefined && !(await verifyPassword(saved.password, textOf(sent['old'])));
    const done =
      isWrongPassword || principal.kind !== 'person'
        ? invalid('old', 'the password you have now', 'another')
        : await changePassword(principal.book, principal.writeContext.sugarhouse, {
            initials: principal.initials,
            password: textOf(sent['password']),
            sparedSession: principal.session,
          });
    if ('problem' in done) return htmlPage(PasswordPage, { faults: faultLines(done.problem) }, 422);
    return redirect('/account', ['Your password is changed; other devices are signed out.']);
  }
}
