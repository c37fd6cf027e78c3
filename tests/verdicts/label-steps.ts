import { correct, pack, record, release, send, type Step, type Texts } from './verdict-case.js';

/** Labels of the whole pack without any allergen, the day after packing. */
export const printed = (more: Texts = {}): Step =>
  record('label-runs', {
    id: 'LB1',
    lot: pack,
    at: '2026-03-20T12:00',
    stock: 'letter-30-up-67x25',
    from: '1',
    to: '24',
    what: 'printed',
    allergens: 'none',
    quantity: '8 fl oz',
    ...more,
  });
export const milk: Texts = { defoamer: 'butter', defoamerAllergens: 'milk' };
export const butterLater: Step = correct('boil', '26077A', milk, 'it was butter');
export const printedAnew = (more: Texts = {}): Step =>
  printed({ id: 'LB2', at: '2026-04-20T12:00', what: 'reprinted', allergens: 'Milk', ...more });
export const eightSold = (more: Texts = {}): Step => send('8', more);
export const replaced = release('old labels off, new ones on, every jar looked at');
export const asked: Texts = {
  authority: 'Vermont Agency of Agriculture',
  askedAt: '2026-04-22',
  answer: 'tell the buyers; no recall',
};
export const boughtSyrup = (more: Texts = {}): Step =>
  record('receipts', {
    id: 'R001',
    supplier: 'Coldwater Sugarbush',
    contact: 'their yard',
    volume: '5 gal',
    density: '67 Bx',
    receivedAt: '2026-03-17T09:00',
    allergens: 'none',
    by: 'OE',
    ...more,
  });
export const blended = { fromLots: '26077A:0.75 gal;R001:0.75 gal', lot: '26078X-1' };
