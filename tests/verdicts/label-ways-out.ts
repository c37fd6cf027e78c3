import { asked, boughtSyrup, butterLater, eightSold, printed, printedAnew } from './label-steps.js';
import { add, pack, release } from './verdict-case.js';
import type { HoldRule } from './ways-out.js';
import type { WayOut } from './ways-out-steps.js';

const bought = { before: [boughtSyrup({ allergens: '' })], pack: { fromLots: 'R001:1.5 gal', lot: '26078X-1' } };
const replaced = release('old labels off, new ones on');

/** The ways out of the rules about allergens and labels. */
export const labelRemedies = {
  'bought-syrup-allergens': [
    {
      held: { ...bought, lot: '26078X-1' },
      out: [add('receipts', 'R001', { allergens: 'none' })],
      ends: 'open',
    },
  ],
  'undeclared-allergen': [
    { held: { after: [printed(), butterLater] }, out: [printedAnew(), replaced], ends: 'released' },
  ],
  'undeclared-allergen-sent': [
    {
      held: { after: [eightSold(), butterLater] },
      out: [release('the buyers were called', pack, asked)],
      ends: 'released',
    },
  ],
  'label-net-quantity': [
    {
      held: { after: [printed({ quantity: '12 fl oz' })] },
      out: [printedAnew({ allergens: 'none' }), replaced],
      ends: 'released',
    },
  ],
  'labels-replaced': [{ held: { after: [printed(), butterLater, printedAnew()] }, out: [replaced], ends: 'released' }],
} as const satisfies Partial<Readonly<Record<HoldRule, readonly WayOut[]>>>;
