import { Controller, Get } from '@nestjs/common';
import { loadThermometers } from '#libs/actions/facts/thermometers.js';
import { momentIn } from '#libs/actions/record/times.js';
import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { leastPassingReading } from '#libs/syrup/instruments/unchecked-thermometers.js';
import { thermometersInUse } from '#libs/syrup/instruments/thermometers.js';
import { coldestInJar } from '#libs/syrup/rules/judge-reading.js';
import { addressSymbol, type AddressSymbol } from '#libs/labels/symbol/address-symbol.js';
import { BoilSheetPage } from '#pages/paper-sheets/boil.js';
import { PackSheetPage } from '#pages/paper-sheets/pack.js';
import { PaperSheetsPage } from '#pages/paper-sheets/list.js';
import { htmlPage } from '../../http/responses.js';
import { CurrentPrincipal, type Principal, readerOf } from '../../http/principal.js';

/** Blank sheets to print: readings are written on paper during the boil and copied in later. */
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
      ...linkWithSymbol(principal, '/boils/finished'),
    });
  }

  @Get('pack')
  async pack(@CurrentPrincipal() principal: Principal) {
    return htmlPage(PackSheetPage, {
      title: 'Pack sheet',
      here: '',
      limit: coldestInJar,
      thermometers: await minimumReadings(principal),
      ...linkWithSymbol(principal, '/packs/finished'),
    });
  }
}

/**
 * What each thermometer of the house must show, by its checks: on paper nobody corrects a reading while the syrup is
 * hot.
 */
async function minimumReadings(principal: Principal): Promise<string[]> {
  const { now } = principal.writeContext;
  const { parseOptions } = await loadSugarhouseContext(principal.book.read, principal.writeContext);
  const year = Number(momentIn(parseOptions.zone, now).slice(0, 4));
  const thermometers = thermometersInUse(await loadThermometers(readerOf(principal), year), now.getTime());
  return thermometers.map((each) => {
    const [fahrenheit, celsius] = (['F', 'C'] as const).map((unit) => leastPassingReading(each, unit, now.getTime()));
    const least = `${each.id}: ${fahrenheit} °F or ${celsius} °C and more`;
    return each.checkedThisSeason ? least : `${least}, but not checked this season: check it first`;
  });
}

/** A QR code for the page where the sheet is entered, with an address that a phone can reach. */
function linkWithSymbol({ server }: Principal, path: string): { address: string; symbol: AddressSymbol | undefined } {
  const { publicUrl, host, port } = server.settings;
  const address = `${publicUrl || (server.phoneAddresses?.()?.first ?? `http://${host === '0.0.0.0' ? 'localhost' : host}:${port}`)}${path}`;
  return { address, symbol: addressSymbol(address) };
}
