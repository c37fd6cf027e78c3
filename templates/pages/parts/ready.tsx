import { jsxTemplate } from 'preact/jsx-runtime';

/** Markup that a component of ours was drawn to before, every text in it escaped: for all who see the same. */
export interface Rendered {
  readonly html: string;
}

/** It stands in the page as it is, and is not drawn again for each reader. */
export const Ready = ({ html }: Rendered) => jsxTemplate([html]);
