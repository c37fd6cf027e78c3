import { Drawing } from './drawing.js';

export interface LotDrawingProps {
  /** The drawing for a wide and for a narrow screen; the style sheet shows one of them. */
  readonly across: string;
  readonly down: string;
}

/** A drawing of what a lot came from and what became of it. */
export const LotDrawing = ({ across, down }: LotDrawingProps) => (
  <figure class="lot-drawing">
    <div class="broad">
      <Drawing svg={across} />
    </div>
    <div class="narrow">
      <Drawing svg={down} />
    </div>
  </figure>
);
