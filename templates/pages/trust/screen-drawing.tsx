import type { TrustPlatform, TrustStep } from './trust-platforms.js';

interface ScreenDrawingProps {
  readonly screen: TrustStep['screen'];
  readonly kind: TrustPlatform['kind'];
}

const row = 26;

/** A small screen with its rows, and a ring around the one to tap. Decorative: the sentence beside it says the same. */
export const ScreenDrawing = ({ screen, kind }: ScreenDrawingProps) => {
  const isPhone = kind === 'phone';
  const width = isPhone ? 190 : 270;
  const top = isPhone ? 30 : 26;
  const height = top + Math.max(screen.rows.length, isPhone ? 4 : 3) * row + 14;
  return (
    <svg class="screen" viewBox={`0 0 ${width} ${height}`} width={width} height={height} aria-hidden="true">
      <rect class="edge" x="1" y="1" width={width - 2} height={height - 2} rx={isPhone ? 16 : 6} />
      <text class="bar" x={isPhone ? width / 2 : 12} y="18" text-anchor={isPhone ? 'middle' : 'start'}>
        {screen.title}
      </text>
      <line class="rule" x1="1" x2={width - 1} y1={top - 4} y2={top - 4} />
      {!isPhone && [0, 1, 2].map((n) => <circle class="rule" cx={width - 14 - n * 12} cy="13" r="3.5" />)}
      {screen.rows.map((text, n) => {
        const y = top + 6 + n * row;
        const isTapped = text === screen.tap;
        return (
          <>
            {isTapped && <rect class="tap" x="7" y={y} width={width - 14} height={row - 4} rx="5" />}
            <text class={isTapped ? 'chosen' : 'other'} x="14" y={y + 15}>
              {text}
            </text>
          </>
        );
      })}
    </svg>
  );
};
