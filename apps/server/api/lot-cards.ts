import { z } from 'zod';
import { planLotCards } from '#libs/actions/labels/lot-cards.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { type LotCardName, lotCardNames } from '#libs/labels/content/lot-card-names.js';
import type { Principal } from '../http/principal.js';
import { type Download, download } from '../http/responses.js';

const names = Object.keys(lotCardNames) as LotCardName[];
export const cardQuery = z.object({
  card: z.enum(names).describe(names.map((name) => `${name}: ${lotCardNames[name]}`).join('; ')),
});

/** A lot's cards (case tags, shelf tags and the like) as a PDF to download; a refusal where the lot is unknown. */
export async function downloadLotCards(
  principal: Principal,
  code: string,
  card: LotCardName,
): Promise<Download | Refusal> {
  const cards = await planLotCards(principal.book.read, principal.writeContext, code, card);
  if ('problem' in cards) return cards;
  return download(`${card}-${cards.lot}.pdf`, 'application/pdf', async (out) => {
    const drawn = await cards.draw(out);
    return 'problem' in drawn ? drawn : undefined;
  });
}
