import { findRecord } from '#libs/store/queries/lots.js';
import { drawnFrom, flowsOutOf } from '#libs/store/queries/trace.js';
import { formatTemperature, formatDensity } from '#libs/syrup/quantities/format-quantities.js';
import type { SapProps } from '#pages/lots/sap.js';
import { firstText } from '../../forms/field-view.js';
import { volumeText } from '#libs/format/format-house-volume.js';
import { pageOfRows } from '../../text/paged-rows.js';
import { momentText } from '../../text/times.js';
import type { LotContext } from './lot-context.js';

/** A gathering or a purchase: how much there was, how much is left, and where it went. */
export async function sapProps({ principal: principal, lot, measures, now, query }: LotContext): Promise<SapProps> {
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const kind = lot.kind === 'gathering' ? 'gathering' : 'receipt';
  const body = (await findRecord({ sql: read, sugarhouse }, kind, lot.code))?.body;
  const left = Math.max(0, (lot.millilitres ?? 0) - (await drawnFrom({ sql: read, sugarhouse }, lot.code)));
  const leftText = volumeText(left, measures.volumes, measures.canada);
  const from = body && ('source' in body ? body.source : `${body.supplier}, ${body.contact}`);
  const sugar = body && ('source' in body ? body.sugar : body.density);
  return {
    sentence: `${lot.kind === 'gathering' ? 'Gathered' : 'Received'} ${momentText(lot.at, now)}. ${left < 1 ? 'None left.' : `${leftText} left.`}`,
    from,
    readings: [
      { reading: body?.volume.typed ?? '', limit: 'came in' },
      ...(sugar ? [{ reading: formatDensity(sugar), limit: 'sugar' }] : []),
      ...(body && 'temperature' in body && body.temperature
        ? [
            {
              reading: formatTemperature(body.temperature),
              limit: `limit ${body.temperature.unit === 'C' ? '3 °C' : '38 °F'} or less, and boiled soon`,
            },
          ]
        : []),
    ],
    into: pageOfRows(
      (await flowsOutOf({ sql: read, sugarhouse }, lot.code)).map((flow) => ({
        code: flow.into,
        typed: flow.typed || 'all of it',
      })),
      firstText(query['into']),
      { address: `/lots/${encodeURIComponent(lot.code)}`, param: 'into', noun: 'lot' },
    ),
    hasSapLeft: left >= 1,
    next: left >= 1 ? { href: '/boils/begin', text: 'Start boil' } : undefined,
    correct: `/records/${kind}/${encodeURIComponent(lot.code)}/correct`,
  };
}
