import { jsxTemplate } from 'preact/jsx-runtime';

export interface DrawingProps {
  /** SVG that our own code drew, with every text in it escaped. Never anything typed or sent. */
  readonly svg: string;
}

/** A drawing as it is: the one place where a page's markup isn't escaped. */
export const Drawing = ({ svg }: DrawingProps) => jsxTemplate([svg]);
