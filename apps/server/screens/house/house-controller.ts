import { Body, Controller, Get, Post } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { groundOf } from '#libs/actions/record/write-context.js';
import { placeList } from '#libs/actions/places/places.js';
import { houseFields, houses } from '#libs/actions/kinds/house.js';
import { record } from '#libs/actions/record/record.js';
import { whoAndWhenKept } from '#libs/actions/record/record-diff.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { judgeAddress } from '#libs/labels/content/address.js';
import { one, type Posted } from '../../forms/field-view.js';
import { formGround, formGroups, problemView, statusFor, type Sent } from '../../forms/form-view.js';
import { postedTexts } from '../../forms/posted-texts.js';
import { deskOf } from '../../forms/write-record.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';

@Controller('house')
export class HouseController {
  @Get()
  async show(@Who() who: Visitor) {
    return page('house/house', await housePage(who));
  }

  @Post()
  @For(rights.house)
  async change(@Who() who: Visitor, @Body() posted: Posted) {
    const desk = deskOf(who, posted);
    const { manner, house } = await groundOf(who.book.read, desk);
    const kept = house && (await findRecord(who.book.read, desk.sugarhouse, 'house', 'house'));
    const texts = postedTexts(houseFields, posted, desk.now, manner.zone);
    // The page asks neither who set the house up nor when, so a change of it leaves both as they are.
    const firstSetUp = kept ? whoAndWhenKept(kept.typed, texts) : { by: desk.by };
    const sent = { ...texts, practice: house?.practice ? 'yes' : 'no', ...firstSetUp };
    const ways = house ? { of: 'house', why: one(posted['why']) || 'the sugarhouse’s own words changed' } : {};
    const answer = await record(who.book, desk, houses, sent, ways);
    if (!('problem' in answer)) return seeOther('/house', ['Written.']);
    return page('house/house', await housePage(who, { posted, ...answer }), statusFor(answer.problem));
  }
}

async function housePage(who: Visitor, sent: Sent = {}) {
  const ground = await formGround(who);
  const kept = await findRecord(who.book.read, who.desk.sugarhouse, 'house', 'house');
  const { publicUrl } = who.server.settings;
  return {
    title: 'The sugarhouse',
    here: '',
    places: placeList(),
    address: judgeAddress(publicUrl || ground.house?.publicUrl).sentences,
    history: kept !== undefined,
    form: {
      action: '/house',
      deed: 'Write it down',
      problem: problemView(sent.problem, houseFields),
      groups: formGroups(
        houseFields,
        [
          {
            legend: 'On every page and label',
            names: [
              'name',
              'address',
              'town',
              'postcode',
              'phone',
              'email',
              'licence',
              'federalLicence',
              'federalLicenceNumber',
              'authority',
              'authorityPhone',
              'authorityAddress',
              'authorityWith',
              'authorityOn',
              'prefix',
            ],
          },
          {
            legend: 'How it is judged and measured',
            names: ['place', 'zone', 'temperatures', 'volumes', 'elevation', 'checkEvery', 'gapsHold'],
          },
          { legend: 'What labels lead to', names: ['publicUrl'] },
        ],
        ground,
        // What a house says of itself is no reading: it stands in its boxes to be changed.
        { ...sent, posted: sent.posted ?? kept?.typed ?? {} },
      ),
    },
  };
}
