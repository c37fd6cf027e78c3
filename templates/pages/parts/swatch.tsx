/** The colour of the syrup, shown beside its name. */
export const Swatch = ({ fill }: { readonly fill: string }) => (
  <svg class="swatch" viewBox="0 0 10 10" aria-hidden="true">
    <rect width={10} height={10} fill={fill} />
  </svg>
);
