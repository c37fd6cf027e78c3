import { Body, Controller, Post } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { changeHouse } from '#libs/actions/record/change-house.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { writeContextOf } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { redirect } from '../../http/responses.js';
import { CurrentPrincipal, type Principal, readerOf } from '../../http/principal.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';

/** The answer to what is printed on the hydrometer, by one tap on Today or on a lot that it holds. */
@Controller('house/hydrometer')
export class HydrometerController {
  @Post()
  @RequireRole(rights.house)
  async answer(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const reader = readerOf(principal);
    const saved = await findRecord(reader, 'house', 'house');
    const answer = await changeHouse(
      principal.book,
      writeContextOf(principal, posted),
      { ...saved?.typed, hydrometerMadeFor: firstText(posted['hydrometerMadeFor']) },
      'another hydrometer',
    );
    if ('problem' in answer) return answer;
    const lot = await findLot(reader, firstText(posted['back']));
    return redirect(lot ? `/lots/${encodeURIComponent(lot.code)}` : '/', [
      'Saved. Readings that name no temperature are judged by it. Change it on the page The sugarhouse.',
    ]);
  }
}
