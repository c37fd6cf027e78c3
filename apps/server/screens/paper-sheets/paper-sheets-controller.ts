import { Controller, Get } from '@nestjs/common';
import { coldestInJar } from '#libs/syrup/rules/judge-reading.js';
import { addressSymbol, type AddressSymbol } from '#libs/labels/symbol/address-symbol.js';
import { BoilSheetPage } from '#pages/paper-sheets/boil.js';
import { PackSheetPage } from '#pages/paper-sheets/pack.js';
import { PaperSheetsPage } from '#pages/paper-sheets/list.js';
import { htmlPage } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';

/** Blank sheets to print and hang: what is read by the fire is written on paper and copied in later. */
@Controller('paper-sheets')
export class PaperSheetsController {
  @Get()
  list() {
    return htmlPage(PaperSheetsPage, { title: 'Paper sheets', here: '' });
  }

  @Get('boil')
  boil(@CurrentPrincipal() principal: Principal) {
    return htmlPage(BoilSheetPage, {
      title: 'Boil sheet',
      here: '',
      ...symbolTo(principal, '/boils/finished'),
    });
  }

  @Get('pack')
  pack(@CurrentPrincipal() principal: Principal) {
    return htmlPage(PackSheetPage, {
      title: 'Pack sheet',
      here: '',
      limit: coldestInJar,
      ...symbolTo(principal, '/packs/finished'),
    });
  }
}

/** A symbol that leads to the page where the sheet is copied in, by an address that a phone can reach. */
function symbolTo({ server }: Principal, path: string): { address: string; symbol: AddressSymbol | undefined } {
  const { publicUrl, host, port } = server.settings;
  const address = `${publicUrl || (server.reach?.()?.first ?? `http://${host === '0.0.0.0' ? 'localhost' : host}:${port}`)}${path}`;
  return { address, symbol: addressSymbol(address) };
}
