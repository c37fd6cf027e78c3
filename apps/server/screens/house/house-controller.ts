import { Body, Controller, Get, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { placeList } from '#libs/actions/places/places.js';
import { houseFields, otherAuthorityFields } from '#libs/actions/kinds/house.js';
import { loadStoredLogo } from '#libs/actions/labels/logo.js';
import { changeHouse } from '#libs/actions/record/change-house.js';
import { storedWhoAndWhen } from '#libs/actions/record/record-diff.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { judgeAddress } from '#libs/labels/content/address.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import {
  formContext,
  formGroups,
  problemView,
  statusFor,
  type SubmittedForm,
  withRemainingFields,
} from '../../forms/form-view.js';
import { postedFields } from '../../forms/posted-fields.js';
import { withChoices } from '../../forms/with-choices.js';
import { writeContextOf } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { htmlPage, redirect } from '../../http/responses.js';
import { CurrentPrincipal, type Principal, readerOf } from '../../http/principal.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { FormGroup } from '#pages/parts/field-group.js';
import { HousePage } from '#pages/house/house.js';

@Controller('house')
export class HouseController {
  @Get()
  async show(@CurrentPrincipal() principal: Principal, @Query('box') box?: string) {
    return htmlPage(HousePage, await housePage(principal, {}, box));
  }

  @Post()
  @RequireRole(rights.house)
  async change(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const context = writeContextOf(principal, posted);
    const { parseOptions: options, house } = await loadSugarhouseContext(principal.book.read, context);
    const saved =
      house && (await findRecord(sugarhouseReader(principal.book.read, context.sugarhouse), 'house', 'house'));
    const fields = postedFields(houseFields, posted, options);
    // The page has no boxes for who set the house up and when, so a change leaves both as they are.
    const firstSetUp = saved ? storedWhoAndWhen(saved.typed, fields) : { by: context.by };
    const sent = { ...fields, practice: house?.practice ? 'yes' : 'no', ...firstSetUp };
    const why = firstText(posted['why']) || 'sugarhouse details changed';
    const answer = await changeHouse(principal.book, context, sent, why);
    if (!('problem' in answer)) return redirect('/house', ['Saved.']);
    return htmlPage(HousePage, await housePage(principal, { posted, ...answer }), statusFor(answer.problem));
  }
}

/** The common details, in sight. */
const openGroups = [
  { legend: 'On every page and label', names: ['name', 'address', 'town', 'postcode', 'phone'] },
  { legend: 'How it is judged and measured', names: ['place', 'zone', 'temperatures', 'volumes', 'hydrometerMadeFor'] },
];

/** The rest, each group behind one tap; what is filled in is counted beside its words. */
const foldedGroups = [
  {
    folded: 'The authority to call',
    names: ['authority', 'authorityPhone', 'authorityAddress', 'authorityWith', 'authorityOn', 'leastDensityConfirmed'],
  },
  { folded: 'Checks while jars are filled, elevation', names: ['checkEvery', 'gapsHold', 'elevation'] },
  { folded: 'Licences, e-mail', names: ['email', 'licence', 'federalLicence', 'federalLicenceNumber'] },
  { folded: 'How labels look', names: ['labelLayout', 'labelTypeface', 'labelColour'] },
  { folded: 'Where label codes lead, prefix of lot codes', names: ['publicUrl', 'jarStory', 'prefix'] },
  { folded: 'Other places you sell in', names: Object.keys(otherAuthorityFields) },
];

/** The program writes these. */
const programFields = ['practice', 'by', 'at'];

const withListChoices = (groups: readonly FormGroup[]): FormGroup[] =>
  groups.map((group) => ({ ...group, fields: group.fields.map(withChoices) }));

/** @param opened the box to which a link leads: its group is open */
async function housePage(principal: Principal, sent: SubmittedForm = {}, opened?: string) {
  const houseContext = await formContext(principal);
  const saved = await findRecord(readerOf(principal), 'house', 'house');
  const { publicUrl } = principal.server.settings;
  return {
    title: 'The sugarhouse',
    here: '',
    places: placeList(),
    // The fault belongs to the box of this form.
    address: judgeAddress(publicUrl || houseContext.house?.publicUrl).sentences.map((sentence) =>
      sentence.replace(' on the page The sugarhouse (/house), or BOILBOOK_PUBLIC_URL', ' on this page'),
    ),
    history: saved !== undefined,
    logo: (await loadStoredLogo(readerOf(principal))) !== undefined,
    form: {
      action: '/house',
      submitLabel: 'Save',
      problem: problemView(sent.problem, houseFields),
      groups: withListChoices(
        formGroups(
          houseFields,
          withRemainingFields(
            houseFields,
            [...openGroups, ...foldedGroups.map((group) => ({ ...group, foldsFilled: true, opened }))],
            programFields,
          ),
          houseContext,
          // Details of the house are no readings, so the form shows the stored values for editing.
          { ...sent, posted: sent.posted ?? saved?.typed ?? {} },
        ),
      ),
    },
  };
}
