import { Controller, Get, Param } from '@nestjs/common';
import { ownAuthorities, authoritiesToAsk } from '#libs/actions/places/authority.js';
import { cautions, cautionPlaces } from '#libs/actions/places/cautions.js';
import { placeList, placeRules } from '#libs/actions/places/places.js';
import { isRefusal } from '#libs/actions/record/problem.js';
import { rules } from '#libs/syrup/rules/rules.js';
import { CautionsPage } from '#pages/places/cautions.js';
import { PlacePage } from '#pages/places/place.js';
import { PlacesPage } from '#pages/places/places.js';
import { formContext } from '../../forms/form-view.js';
import { htmlPage } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';

/** Pages of the cautions and of each place's rules. */
@Controller()
export class PlacesController {
  @Get('cautions')
  async cautions(@CurrentPrincipal() principal: Principal) {
    const { house, place } = await formContext(principal);
    const every = cautions();
    const groups = cautionPlaces.map((where) => ({
      where,
      title: titles[where],
      cautions: every.filter((each) => each.where[0] === where),
    }));
    return htmlPage(CautionsPage, {
      title: 'Cautions',
      here: '',
      groups: groups.filter((group) => group.cautions.length > 0),
      asks: authoritiesToAsk({ house, place }),
    });
  }

  @Get('places')
  async places(@CurrentPrincipal() principal: Principal) {
    const { house, place } = await formContext(principal);
    return htmlPage(PlacesPage, {
      ownAuthorities: ownAuthorities(house),
      title: 'Places and rules',
      here: '',
      own: place,
      places: placeList(),
      rules: shownRules(),
    });
  }

  @Get('places/:id')
  place(@Param('id') id: string) {
    const rules = placeRules(id);
    return isRefusal(rules) ? rules : htmlPage(PlacePage, { title: rules.name, here: '', place: rules });
  }
}

const shownRules = () => rules.map((rule) => ({ ...rule, text: rule.title, stop: rule.kind === 'stop' }));

const titles: Readonly<Record<(typeof cautionPlaces)[number], string>> = {
  sap: 'Sap',
  boil: 'At the pan',
  filter: 'Filtering',
  pack: 'Packing',
  seal: 'Seals',
  label: 'Labels',
  sell: 'Selling',
  clean: 'Cleaning',
  equipment: 'Equipment',
  print: 'Printing',
};
