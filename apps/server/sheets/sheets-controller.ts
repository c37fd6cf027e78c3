import { Controller, Get } from '@nestjs/common';
import { symbolChoices, symbolModules, symbolSvgPath } from '#libs/labels/symbol.js';
import { coldestInJar } from '#libs/syrup/judge-fill.js';
import { page } from '../web/answers.js';
import { Who, type Visitor } from '../web/visitor.js';

/** Blank sheets to print and hang: what is read by the fire is written on paper and copied in later. */
@Controller('sheets')
export class SheetsController {
  @Get()
  list() {
    return page('sheets/list', { title: 'Paper sheets', here: '' });
  }

  @Get('boil')
  boil(@Who() who: Visitor) {
    return page('sheets/boil', { title: 'Boil sheet', here: '', wide: true, ...symbolTo(who, '/boils/whole') });
  }

  @Get('pack')
  pack(@Who() who: Visitor) {
    return page('sheets/pack', {
      title: 'Pack sheet',
      here: '',
      wide: true,
      limit: coldestInJar,
      ...symbolTo(who, '/packs/whole'),
    });
  }
}

/** A symbol that leads to the page where the sheet is copied in. */
function symbolTo(who: Visitor, path: string): { address: string; symbol?: { path: string; modules: number } } {
  const { settings } = who.server;
  const address = `${settings.publicUrl || `http://${settings.host === '0.0.0.0' ? 'localhost' : settings.host}:${settings.port}`}${path}`;
  const choice = symbolChoices(address, 300)[0];
  if (!choice) return { address };
  return {
    address,
    symbol: { path: symbolSvgPath(symbolModules(address, choice), choice.modules), modules: choice.modules },
  };
}
