import { Controller, Get, Param } from '@nestjs/common';
import { type SeeOther, seeOther } from '../../http/responses.js';

/**
 * The addresses by which EPCIS events name lots, places, instruments and records: for people who are signed in, each
 * leads to the page that shows it. Jars have their public page (`/J/CODE`, `/01/…`).
 */
@Controller()
export class EventNamesController {
  @Get('lot/:code')
  lot(@Param('code') code: string): SeeOther {
    // The sap of a boil without recorded gatherings is named `CODE sap`.
    return seeOther(`/lots/${encodeURIComponent(code.replace(/ sap$/, ''))}`);
  }

  @Get('place/sugarhouse')
  sugarhouse(): SeeOther {
    return seeOther('/house');
  }

  @Get('place/:name')
  place(@Param('name') name: string): SeeOther {
    return seeOther(`/find?${new URLSearchParams({ q: name }).toString()}`);
  }

  @Get('instrument/:id')
  instrument(@Param('id') id: string): SeeOther {
    return seeOther(`/find?${new URLSearchParams({ q: id }).toString()}`);
  }

  /** A change of a lot is named by the lot and the entry: `26077A-1 152`, `26077A-1 before 152`. */
  @Get('event/:kind/:id')
  event(@Param('kind') kind: string, @Param('id') id: string): SeeOther {
    const entry = / (\d+)$/.exec(id)?.[1];
    return seeOther(
      entry === undefined ? `/records/${encodeURIComponent(kind)}/${encodeURIComponent(id)}` : `/records/${entry}`,
    );
  }
}
