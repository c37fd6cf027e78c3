import { jarNotice } from './jar-notice.js';
import type { JarNotice } from './static-jar-page.js';
import type { LabelContent } from './label.js';

/** What the holder of a jar of a recalled lot must read first; undefined for other lots. */
export const recallNotice = (
  lot: { readonly code: string; readonly state: string },
  content: Pick<LabelContent, 'maker'>,
): JarNotice | undefined => (lot.state === 'recalled' ? jarNotice('recalled', lot.code, content) : undefined);
