/** A volume that was worked out, not read: 11.36 L, 240 mL. */
export const litresSaid = (millilitres: number): string =>
  millilitres >= 1000 ? `${(millilitres / 1000).toFixed(2)} L` : `${Math.round(millilitres)} mL`;
