import { jsxTemplate } from 'preact/jsx-runtime';
import type { PageProps } from '../page-context.js';

export interface DrawingProps {
  /** SVG that our own code drew, with all text in it escaped. Never anything typed or received. */
  readonly svg: string;
}

/** A drawing, inserted unescaped: this is the only file where markup isn't escaped. */
export const Drawing = ({ svg }: DrawingProps) => jsxTemplate([svg]);

/** Markup that our own component rendered earlier, with all text escaped, in UTF-8: the same for every reader. */
export interface Rendered {
  readonly bytes: Uint8Array;
}

/** Inserts the markup as it is, without rendering or encoding it again for each reader. */
export const Prerendered = ({ part, page }: { readonly part: Rendered } & PageProps) =>
  jsxTemplate([page.insert(part)]);
