import { jsxTemplate } from 'preact/jsx-runtime';

export interface DrawingProps {
  /** SVG that our own code drew, with all text in it escaped. Never anything typed or received. */
  readonly svg: string;
}

/** A drawing, inserted unescaped: this is the only file where markup isn't escaped. */
export const Drawing = ({ svg }: DrawingProps) => jsxTemplate([svg]);

/** Markup that our own component rendered earlier, with all text escaped: the same for every reader. */
export interface Rendered {
  readonly html: string;
}

/** Inserts the markup as it is, without rendering it again for each reader. */
export const Ready = ({ html }: Rendered) => jsxTemplate([html]);
