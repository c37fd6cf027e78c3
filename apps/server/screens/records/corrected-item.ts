import { correctionItem } from '../../forms/program-fields.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import type { ListItem } from '#libs/actions/record/list-items.js';

/** What a page corrects of a list: one item, `new` for one that was left out, or nothing yet. */
export type CorrectedItem = ListItem | 'new' | undefined;

/**
 * The item that the form or the address asks for. A form names it by its text, for others may have been added or removed
 * since. The only item of a list is taken without asking.
 */
export function correctedItem(items: readonly ListItem[], asked: string, posted: Posted | undefined): CorrectedItem {
  const text = posted && posted[correctionItem] !== undefined ? firstText(posted[correctionItem]) : undefined;
  if (text !== undefined) return text === 'new' ? 'new' : items.find((item) => item.text === text);
  if (asked === 'new') return 'new';
  return /^\d{1,4}$/.test(asked) ? items[Number(asked)] : items.length === 1 ? items[0] : undefined;
}

/** How the page shows it: the item, those that stay, and the address to add one. */
export function correctedItemView(items: readonly ListItem[], item: ListItem | 'new', field: string) {
  return {
    name: correctionItem,
    value: item === 'new' ? item : item.text,
    isNew: item === 'new',
    stays: items.filter((each) => each !== item).map(({ text }) => text),
    addHref: item === 'new' ? undefined : `?field=${field}&item=new`,
  };
}
