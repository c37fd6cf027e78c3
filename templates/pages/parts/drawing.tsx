import { jsxTemplate } from 'preact/jsx-runtime';

export interface DrawingProps {
  /** SVG that our own code drew, with every text in it escaped. Never anything typed or sent. */
  readonly svg: string;
}

/** A drawing as it is: the one file where a page's markup isn't escaped. */
export const Drawing = ({ svg }: DrawingProps) => jsxTemplate([svg]);

/** Markup that a component of ours was drawn to before, every text in it escaped: for all who see the same. */
export interface Rendered {
  readonly html: string;
}

/** It stands in the page as it is, and is not drawn again for each reader. */
export const Ready = ({ html }: Rendered) => jsxTemplate([html]);
